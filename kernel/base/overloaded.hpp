#pragma once
// Several functions as one, for std::visit.

namespace ridgeward {

template <class... Cases>
struct Overloaded : Cases... {
  using Cases::operator()...;
};
template <class... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

}  // namespace ridgeward
