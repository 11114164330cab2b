#include "model/nearest.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace ridgeward::model {

namespace {

char lower(char c) { return (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c; }

/// Letters to change, add, drop or swap with a neighbour to make `b` of `a`, case aside.
std::size_t changes(std::string_view a, std::string_view b) {
  std::vector<std::size_t> two_up(b.size() + 1);
  std::vector<std::size_t> up(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(up.begin(), up.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({up[j] + 1, row[j - 1] + 1, up[j - 1] + (same ? 0U : 1U)});
      if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
          lower(a[i - 2]) == lower(b[j - 1])) {
        row[j] = std::min(row[j], two_up[j - 2] + 1);
      }
    }
    two_up.swap(up);
    up.swap(row);
  }
  return up[b.size()];
}

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string_view>& words) {
  if (word.size() > 64) {
    return "";
  }
  std::string_view best;
  std::size_t fewest = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const std::string_view other : words) {
    const std::size_t n = changes(word, other);
    if (n < fewest && n < other.size()) {
      fewest = n;
      best = other;
    }
  }
  return std::string(best);
}

std::string pointer_step(std::string_view name) {
  std::string text;
  for (const char c : name) {
    if (c == '~') {
      text += "~0";
    } else if (c == '/') {
      text += "~1";
    } else {
      text += c;
    }
  }
  return text;
}

std::string listed(const std::vector<std::string_view>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) {
      text += i + 1 == words.size() ? " or " : ", ";
    }
    text += words[i];
  }
  return text;
}

}  // namespace ridgeward::model
