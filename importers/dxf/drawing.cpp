#include "dxf/drawing.hpp"

#include "support/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>

namespace ridgeward::dxf {

namespace {

constexpr std::size_t most_named = 8;

/// +1 where `p` lies left of the line from `a` to `b`, -1 right, 0 on it.
int side_of(const Position& a, const Position& b, const Position& p) {
  const double turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  return turn > 0.0 ? 1 : (turn < 0.0 ? -1 : 0);
}

/// Two sides, each from one corner to another.
struct Sides {
  Position a, b, c, d;

  bool meet() const {
    for (const std::size_t k : {0U, 1U}) {
      if (std::max(a[k], b[k]) < std::min(c[k], d[k]) ||
          std::max(c[k], d[k]) < std::min(a[k], b[k])) {
        return false;
      }
    }
    return side_of(a, b, c) * side_of(a, b, d) <= 0 && side_of(c, d, a) * side_of(c, d, b) <= 0;
  }
  /// A place where they do: REQUIRES that they meet.
  Position place() const {
    const double turn = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
    if (turn == 0.0) {
      return c;
    }
    const double along = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / turn;
    return {a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1])};
  }
};

/// The first two sides that meet and are no neighbours, or of which one runs back along the other.
std::optional<Sides> sides_that_meet(const std::vector<Position>& loop) {
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Sides next{loop[i], loop[(i + 1) % n], loop[(i + 1) % n], loop[(i + 2) % n]};
    const double ahead = (next.b[0] - next.a[0]) * (next.d[0] - next.c[0]) +
                         (next.b[1] - next.a[1]) * (next.d[1] - next.c[1]);
    if (side_of(next.a, next.b, next.d) == 0 && ahead < 0.0) {
      return next;
    }
    for (std::size_t k = i + 2; k < n && (i != 0 || k + 1 < n); ++k) {
      const Sides apart{loop[i], loop[i + 1], loop[k], loop[(k + 1) % n]};
      if (apart.meet()) {
        return apart;
      }
    }
  }
  return std::nullopt;
}

/// Those of the words that the layer's name holds.
std::vector<std::string> held(const std::string& layer, const std::vector<std::string>& anywhere,
                              const std::vector<std::string>& at_start) {
  const std::string name = importing::small(layer);
  std::vector<std::string> words;
  for (const std::string& word : anywhere) {
    if (name.find(word) != std::string::npos) {
      words.push_back(word);
    }
  }
  for (const std::string& word : at_start) {
    for (std::size_t at = name.find(word); at != std::string::npos; at = name.find(word, at + 1)) {
      if (at == 0 || std::isalpha(static_cast<unsigned char>(name[at - 1])) == 0) {
        words.push_back(word);
        break;
      }
    }
  }
  return words;
}

}  // namespace

bool has(const std::string& layer, const std::string& word) {
  return importing::small(layer).find(word) != std::string::npos;
}

std::vector<std::string> words_of_walls(const std::string& layer) {
  // The a with two dots in UTF-8 and Latin-1, as a small letter and a capital.
  return held(
      layer,
      {"wall", "wand", "waende", "w\xC3\xA4nde", "w\xC3\x84nde", "w\xE4nde", "w\xC4nde", "mauer"},
      {"mur", "pared"});
}

std::vector<std::string> words_of_roofs(const std::string& layer) {
  return held(layer, {"roof", "dach"}, {"toit", "techo", "tejado", "cubierta"});
}

bool is_for_gables(const std::string& layer) {
  return !held(layer, {"gable", "rake", "giebel", "ortgang"}, {"pignon", "hastial"}).empty();
}

bool Outline::is_in_space() const {
  const auto [low, high] = std::minmax_element(heights.begin(), heights.end());
  return !heights.empty() && *low != *high;
}

bool is_elevation(const std::string& layer) { return importing::small(layer).starts_with("elev"); }

std::optional<RoofLine::Kind> roof_kind(const std::string& layer) {
  using Kind = RoofLine::Kind;
  static const std::map<std::string, Kind> kinds{
      {"eave", Kind::eave},       {"rake", Kind::rake},       {"ridge", Kind::fold},
      {"hip", Kind::fold},        {"valley", Kind::fold},     {"pitch_break", Kind::fold},
      {"shed_top", Kind::border}, {"headwall", Kind::border}, {"sidewall", Kind::border},
      {"step_wall", Kind::border}};
  const std::string name = importing::small(layer);
  const auto at = kinds.find(name.substr(name.find_last_of('-') + 1));
  return at == kinds.end() ? std::nullopt : std::optional(at->second);
}

std::string named(const std::map<std::string, std::size_t>& counts) {
  std::string text;
  std::size_t told = 0;
  for (const auto& [name, count] : counts) {
    if (told++ == most_named) {
      return text + fmt::format(" and {} more", counts.size() - most_named);
    }
    text += fmt::format("{}{} ({})", text.empty() ? "" : ", ", name, count);
  }
  return text;
}

std::string place_words(const Position& p) {
  const auto plain = [](double x) {
    std::string text = fmt::format("{:.3f}", x);
    text.erase(text.find_last_not_of('0') + 1);
    text.erase(text.find_last_not_of('.') + 1);
    return text == "-0" ? "0" : text;
  };
  return plain(p[0]) + ", " + plain(p[1]);
}

void check_outline(const Outline& outline) {
  constexpr std::size_t most = 5000;
  std::vector<Position> loop = outline.corners;
  loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
  if (loop.size() > 1 && loop.front() == loop.back()) {
    loop.pop_back();
  }
  const std::optional<Sides> met = loop.size() > most ? std::nullopt : sides_that_meet(loop);
  if (met) {
    throw importing::Refused(
        fmt::format("layer {}, at {}", outline.layer, place_words(met->place())),
        fmt::format("the outline meets itself: its side from {} to {} and that from {} to {}",
                    place_words(met->a), place_words(met->b), place_words(met->c),
                    place_words(met->d)),
        "draw each wall once, in order round the house, no side touching another");
  }
}

double twice_area(const std::vector<Position>& loop) {
  double sum = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Position& a = loop[i];
    const Position& b = loop[(i + 1) % loop.size()];
    sum += (a[0] - loop[0][0]) * (b[1] - loop[0][1]) - (a[1] - loop[0][1]) * (b[0] - loop[0][0]);
  }
  return sum;
}

}  // namespace ridgeward::dxf
