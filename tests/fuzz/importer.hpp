#pragma once
// What an importer must keep, whatever bytes it gets.

#include <string_view>

namespace ridgeward::fuzz {

/// With none of its options, or with some of any value (half of all inputs): read() gives a model
/// and 0, or a fault with words and something else, and throws nothing; what
/// it gives is JSON, what it tells is UTF-8; sniffing survives anything under any name. With
/// `both_ways`: building by building it succeeds or fails as it does all at once. Says what is
/// broken, and aborts.
void hold_laws(std::string_view bytes, bool both_ways);

}  // namespace ridgeward::fuzz
