#pragma once
// Whether this is built with AddressSanitizer, which keeps memory of its own and what is freed.

namespace ridgeward {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool has_address_sanitizer = true;
#elif defined(__has_feature)
constexpr bool has_address_sanitizer = __has_feature(address_sanitizer);
#else
constexpr bool has_address_sanitizer = false;
#endif

}  // namespace ridgeward
