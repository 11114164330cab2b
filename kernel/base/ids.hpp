#pragma once
// Strong indices: a bay's index can't be used on the planes.

#include <compare>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <utility>
#include <vector>

namespace ridgeward {

/// Position in the IndexedVector of the same tag; default-constructed it is `none`.
template <class Tag>
struct Index {
  static constexpr std::uint32_t no_value = std::numeric_limits<std::uint32_t>::max();
  std::uint32_t value = no_value;

  constexpr Index() = default;
  constexpr explicit Index(std::size_t v) : value(static_cast<std::uint32_t>(v)) {}
  constexpr bool is_none() const { return value == no_value; }
  constexpr auto operator<=>(const Index&) const = default;
};

struct NodeTag;
struct LineTag;
struct PlaneTag;
struct MemberTag;
struct BayTag;
struct CompartmentTag;
struct SpaceTag;
struct JoinTag;
struct SlotTag;
struct ExhaustTag;

using NodeId = Index<NodeTag>;
using LineId = Index<LineTag>;
using PlaneId = Index<PlaneTag>;
using MemberId = Index<MemberTag>;
using BayId = Index<BayTag>;
using CompartmentId = Index<CompartmentTag>;
using SpaceId = Index<SpaceTag>;
using JoinId = Index<JoinTag>;
using SlotId = Index<SlotTag>;
using ExhaustId = Index<ExhaustTag>;

/// std::vector that only its own kind of index opens.
template <class I, class T>
class IndexedVector {
 public:
  IndexedVector() = default;
  explicit IndexedVector(std::size_t n, const T& fill = T{}) : items_(n, fill) {}

  T& operator[](I i) { return items_[i.value]; }
  const T& operator[](I i) const { return items_[i.value]; }
  I push_back(T item) {
    items_.push_back(std::move(item));
    return I(items_.size() - 1);
  }
  std::size_t size() const { return items_.size(); }
  bool empty() const { return items_.empty(); }
  void reserve(std::size_t n) { items_.reserve(n); }
  void resize(std::size_t n) { items_.resize(n); }
  bool has(I i) const { return i.value < items_.size(); }
  auto begin() { return items_.begin(); }
  auto end() { return items_.end(); }
  auto begin() const { return items_.begin(); }
  auto end() const { return items_.end(); }
  /// All indices in order, for loops that need the index.
  std::vector<I> ids() const {
    std::vector<I> all;
    all.reserve(items_.size());
    for (std::size_t i = 0; i < items_.size(); ++i) {
      all.push_back(I(i));
    }
    return all;
  }

 private:
  std::vector<T> items_;
};

}  // namespace ridgeward
