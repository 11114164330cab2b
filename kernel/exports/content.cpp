#include "exports/content.hpp"

#include <algorithm>

namespace ridgeward::exports {

namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) {
    return {};
  }
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::vector<std::string_view> split(std::string_view list) {
  std::vector<std::string_view> words;
  for (auto comma = list.find(','); comma != std::string_view::npos; comma = list.find(',')) {
    words.push_back(trimmed(list.substr(0, comma)));
    list.remove_prefix(comma + 1);
  }
  words.push_back(trimmed(list));
  return words;
}

bool is_signed(std::string_view word) {
  return !word.empty() && (word.front() == '+' || word.front() == '-');
}

std::string good_words() {
  std::string list = "all";
  for (const ContentWords& entry : content_words()) {
    list += std::string(", ") + entry.word;
  }
  return list;
}

/// Switches what `word` names; false when it names nothing.
bool apply_word(std::string_view word, Content& content) {
  const bool on = word.empty() || word.front() != '-';
  if (is_signed(word)) {
    word.remove_prefix(1);
  }
  bool found = false;
  for (const ContentWords& entry : content_words()) {
    if (word == entry.word || word == "all") {
      content.*entry.field = on;
      found = true;
    }
  }
  return found;
}

}  // namespace

const std::vector<ContentWords>& content_words() {
  static const std::vector<ContentWords> words{
      {&Content::roof, "roof", "the body of the roof"},
      {&Content::deck, "deck", "the deck with its openings"},
      {&Content::slots, "slots", "intake slots, cut through the deck"},
      {&Content::attic, "attic", "air spaces over the ceilings"},
      {&Content::members, "members", "rafters and other timber"},
  };
  return words;
}

Result<Content> parse_content(std::string_view list) {
  const std::vector<std::string_view> words = split(list);
  if (words.size() == 1 && words.front().empty()) {
    return Fault{"show.empty", "--show", "nothing is named",
                 "name one or more of: " + good_words()};
  }
  const bool is_change = std::all_of(words.begin(), words.end(), is_signed);
  Content content = is_change ? Content{} : Content{false, false, false, false, false};
  for (const std::string_view word : words) {
    if (!apply_word(word, content)) {
      return Fault{"show.unknown_word", "--show",
                   "an export carries nothing called '" + std::string(word) + "'",
                   "words, separated by commas: " + good_words()};
    }
  }
  return content;
}

}  // namespace ridgeward::exports
