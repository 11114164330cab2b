#include "framing/framing.hpp"

namespace ridgeward::framing {

const char* word(MemberKind kind) {
  switch (kind) {
    case MemberKind::common:
      return "common";
    case MemberKind::hip_jack:
      return "hip_jack";
    case MemberKind::valley_jack:
      return "valley_jack";
    case MemberKind::cripple_jack:
      return "cripple_jack";
    case MemberKind::hip:
      return "hip";
    case MemberKind::valley:
      return "valley";
    case MemberKind::ridge_board:
      return "ridge_board";
    case MemberKind::header:
      return "header";
    case MemberKind::trimmer:
      return "trimmer";
  }
  return "common";
}

}  // namespace ridgeward::framing
