#pragma once
// Reading numbers and unit words off the front of a text; private to this folder. Independent of
// the locale, never throws on any bytes.

#include <optional>
#include <string>
#include <string_view>

namespace ridgeward::units {

/// Lower case ASCII, with typographic marks (prime signs, curly quotes, minus, superscript 2,
/// degree sign, vulgar fractions, hard spaces) replaced by their ASCII spelling.
std::string plain_ascii(std::string_view text);

/// A position in a plain_ascii() text that moves on as things are taken.
class Scan {
 public:
  explicit Scan(std::string_view text) : left_(text) {}

  void skip_spaces();
  bool at_end() const { return left_.empty(); }
  /// Takes `word` if the text goes on with it.
  bool take(std::string_view word);
  /// Takes a run of letters; empty if there is none.
  std::string_view take_letters();
  /// Unsigned decimal: "12", "12.5", ".5"; no exponent.
  std::optional<double> take_decimal();
  /// Unsigned decimal or mixed number: "6.5", "6 1/2", "6-1/2", "3/4". Fractions are proper and
  /// have a denominator of at most 1024: "61/2" is more likely a lost space than thirty and a half.
  std::optional<double> take_mixed();

 private:
  std::optional<long> take_digits();
  std::optional<double> take_fraction();

  std::string_view left_;
};

/// Removes spaces at both ends.
std::string_view trimmed(std::string_view text);

}  // namespace ridgeward::units
