#include "papers/compartments.hpp"

#include "attic/names.hpp"
#include "papers/text_table.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::papers {

namespace {

/// Compartments that are told as one.
using Group = std::vector<CompartmentId>;

class Writer {
 public:
  Writer(const Assessment& assessment, units::Style style, std::size_t columns)
      : a_(assessment), style_(style), columns_(columns) {
    for (const codes::Test& test : a_.tests.tests) {
      tests_[test.compartment.value].push_back(&test);
    }
  }
  std::string text();

 private:
  std::string key(CompartmentId id) const;
  std::vector<Group> groups() const;
  /// "12 in2", or "12 to 15 in2": the least and the greatest of the group.
  template <class Value>
  std::string areas(const Group& group, Value value) const;
  void bar(const char* word, const Group& group, double share, const std::string& area);
  void tests(const Group& group);
  void tell(const Group& group);
  void entry(const std::string& text) {
    out_ += width_of(text) <= columns_ ? text + "\n" : wrap(text, 2, columns_);
  }

  const Assessment& a_;
  units::Style style_;
  std::size_t columns_;
  std::map<std::uint32_t, std::vector<const codes::Test*>> tests_;
  std::string out_;
};

/// What rafter spaces must have in common to be told together.
std::string Writer::key(CompartmentId id) const {
  const vents::CompartmentTotals& totals = a_.vents.totals[id];
  std::string key = attic::ceiling_of(a_.attic, id) + (totals.intake_m2 > 0.0 ? "+" : "-") +
                    (totals.exhaust_m2 > 0.0 ? "+" : "-");
  for (const codes::Test* test : tests_.at(id.value)) {
    key += !test->is_tested ? '-' : test->holds ? '1' : '0';
  }
  return key + fmt::format("{:g}", a_.tests.required[id].ratio);
}

std::vector<Group> Writer::groups() const {
  std::vector<Group> groups;
  std::map<std::string, std::size_t> known;
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    if (a_.attic.compartments[id].is_rafter_space) {
      const auto [at, is_new] = known.emplace(key(id), groups.size());
      if (!is_new) {
        groups[at->second].push_back(id);
        continue;
      }
    }
    groups.push_back({id});
  }
  return groups;
}

template <class Value>
std::string Writer::areas(const Group& group, Value value) const {
  double least = HUGE_VAL;
  double most = -HUGE_VAL;
  for (const CompartmentId id : group) {
    least = std::min(least, value(id));
    most = std::max(most, value(id));
  }
  std::string low = units::show_free_area(least, style_);
  const std::string high = units::show_free_area(most, style_);
  if (low == high) {
    return low;
  }
  return low.substr(0, low.rfind(' ')) + " to " + high;
}

void Writer::bar(const char* word, const Group& group, double share, const std::string& area) {
  constexpr std::size_t before = 34;  // columns of what stands before the bar and its two borders
  const std::size_t longest = std::min<std::size_t>(40, columns_ - before);
  const auto length = static_cast<std::size_t>(std::lround(share * static_cast<double>(longest)));
  const std::string marks(length, '#');
  if (group.size() == 1) {
    out_ += fmt::format("    {:<7} {:>12} {:>4.0f} % |{:<{}}|\n", word, area, share * 100, marks,
                        longest);
  } else {
    out_ += fmt::format("    {:<7} {:>14} each\n", word, area);
  }
}

void Writer::tests(const Group& group) {
  const std::vector<const codes::Test*>& first = tests_.at(group.front().value);
  for (std::size_t i = 0; i < first.size(); ++i) {
    const codes::Test* low = first[i];
    const codes::Test* high = first[i];
    for (const CompartmentId id : group) {
      const codes::Test* test = tests_.at(id.value)[i];
      low = test->measured < low->measured ? test : low;
      high = test->measured > high->measured ? test : high;
    }
    const ToldTest least = told(a_, *low, style_);
    const ToldTest most = told(a_, *high, style_);
    const std::string verdict =
        low->is_advice && !low->holds ? std::string("ADVICE") : std::string(least.verdict);
    const std::string measured =
        least.measured == most.measured ? least.measured : least.measured + " to " + most.measured;
    const std::string needed =
        least.needed == most.needed ? least.needed : "what its own floor asks for";
    out_ += wrap(fmt::format("{:<8} {:<16} {} Measured: {}; needed: {}.", verdict, least.section,
                             least.asks, measured, needed),
                 4, columns_);
  }
}

void Writer::tell(const Group& group) {
  const auto floor = [&](CompartmentId id) { return a_.attic.compartments[id].floor_area_m2; };
  const auto required = [&](CompartmentId id) { return a_.tests.required[id].required_m2; };
  const auto intake = [&](CompartmentId id) { return a_.vents.totals[id].intake_m2; };
  const auto exhaust = [&](CompartmentId id) { return a_.vents.totals[id].exhaust_m2; };
  const auto both = [&](CompartmentId id) { return intake(id) + exhaust(id); };
  const auto by_floor = [&](CompartmentId l, CompartmentId r) { return floor(l) < floor(r); };
  const auto [least, most] = std::minmax_element(group.begin(), group.end(), by_floor);
  const std::string low = units::show_area(floor(*least), style_);
  const std::string high = units::show_area(floor(*most), style_);
  const CompartmentId one = group.front();
  const std::string name = attic::names_of(a_.framing, a_.attic, group);
  const double ratio = a_.tests.required[one].ratio;
  const std::string asked =
      ratio > 0.0 ? fmt::format("required free area {} (1/{:.0f})", areas(group, required), ratio)
                  : std::string("no free area over the floor is asked for");
  entry(fmt::format("  {}{}: floor {}, {}", name, group.size() > 1 ? ", each" : "",
                    low == high ? low : low.substr(0, low.rfind(' ')) + " to " + high, asked));
  const double total = both(one);
  bar("intake", group, total > 0 ? intake(one) / total : 0.0, areas(group, intake));
  bar("exhaust", group, total > 0 ? exhaust(one) / total : 0.0, areas(group, exhaust));
  if (group.size() == 1 && ratio <= 0.0) {
    out_ += fmt::format("    both    {:>12}\n", units::show_free_area(total, style_));
  } else if (group.size() == 1) {
    const double more = total - required(one);
    out_ += fmt::format("    both    {:>12}, {}\n", units::show_free_area(total, style_),
                        more + 1e-12 >= 0.0
                            ? units::show_free_area(more, style_) + " more than required"
                            : units::show_free_area(-more, style_) + " LESS than required");
  } else {
    out_ += fmt::format("    both    {:>14} each\n", areas(group, both));
  }
  tests(group);
}

std::string Writer::text() {
  for (const Group& group : groups()) {
    tell(group);
  }
  if (a_.attic.compartments.empty()) {
    out_ += "  none: no vented space lies under this roof\n";
  }
  return out_;
}

}  // namespace

std::string compartments_text(const Assessment& assessment, units::Style style,
                              std::size_t columns) {
  return Writer(assessment, style, columns).text();
}

}  // namespace ridgeward::papers
