#pragma once
// Text as UTF-8 (RFC 3629).

#include <cstddef>
#include <string>
#include <string_view>

namespace ridgeward {

/// Length of the character at the front of `text`; 0 if it is none. REQUIRES text that is not
/// empty.
std::size_t utf8_length(std::string_view text);

/// Position of the first byte that is not UTF-8; npos if all are.
std::size_t first_not_utf8(std::string_view text);

/// Words of somebody else for a person's eyes, on one line: what is no UTF-8 becomes "?", control
/// characters (also those from U+0080, which some terminals obey) become spaces.
std::string as_line(std::string_view words);

}  // namespace ridgeward
