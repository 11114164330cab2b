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
    case MemberKind::barge_rafter:
      return "barge_rafter";
    case MemberKind::lookout:
      return "lookout";
    case MemberKind::blocking:
      return "blocking";
    case MemberKind::vented_blocking:
      return "vented_blocking";
    case MemberKind::collar_tie:
      return "collar_tie";
    case MemberKind::valley_sleeper:
      return "valley_sleeper";
    case MemberKind::common_truss:
      return "common_truss";
    case MemberKind::girder_truss:
      return "girder_truss";
    case MemberKind::step_down_truss:
      return "step_down_truss";
    case MemberKind::jack_truss:
      return "jack_truss";
    case MemberKind::valley_truss:
      return "valley_truss";
  }
  return "common";
}

bool is_truss(MemberKind kind) {
  switch (kind) {
    case MemberKind::common_truss:
    case MemberKind::girder_truss:
    case MemberKind::step_down_truss:
    case MemberKind::jack_truss:
    case MemberKind::valley_truss:
      return true;
    default:
      return false;
  }
}

const char* word(AtPlate at_plate) {
  switch (at_plate) {
    case AtPlate::none:
      return "none";
    case AtPlate::open:
      return "open";
    case AtPlate::vented:
      return "vented";
    case AtPlate::blocked:
      return "blocked";
  }
  return "none";
}

}  // namespace ridgeward::framing
