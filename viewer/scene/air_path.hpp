#pragma once
// The moving air as plain data: lines that it follows, arrow heads along them at a moment, and bays
// in which nothing moves. No graphics here.

#include "airflow/airflow.hpp"
#include "assess.hpp"

#include <glm/vec3.hpp>

#include <string>
#include <vector>

namespace ridgeward::scene {

enum class AirRole {
  intake,     ///< comes in where it should
  exhaust,    ///< goes out where it should
  wrong_way,  ///< out of an intake, in through an exhaust
  rooms,      ///< through the ceiling
  bay,        ///< along a bay over a sloped ceiling
  drift       ///< within an attic, where the air is mixed: whence and whither only
};
inline constexpr std::size_t air_role_count = 6;

/// A line that air follows, in its direction.
struct AirStream {
  AirRole role = AirRole::intake;
  std::vector<glm::dvec3> points;
  glm::dvec3 normal{0.0};  ///< of the roof plane that it runs under; zeros: of none
  double length_m = 0.0;
  double flow_m3s = 0.0;  ///< over 0
  double strength = 0.0;  ///< of the picture's greatest flow of such a line, 0 to 1
  double pace_ms = 0.0;   ///< at which its heads move on the picture
  double temperature_c = 0.0;
};

enum class StillWhy {
  blocked,  ///< blocking, insulation or a closed soffit shuts it off
  dead,     ///< leads nowhere
  hardly    ///< open, but with less than a hundredth of the usual flow
};
inline constexpr std::size_t still_why_count = 3;

/// A bay in which nothing moves.
struct StillBay {
  StillWhy why = StillWhy::dead;
  BayId bay;
  std::vector<glm::dvec3> outline;  ///< on the deck
  glm::dvec3 normal{0.0, 0.0, 1.0};
  glm::dvec3 mark{0.0};  ///< near its foot
};

struct AirScene {
  std::vector<AirStream> streams;
  std::vector<StillBay> still;
  bool has(AirRole role) const;
  bool has(StillWhy why) const;
};

/// The air of a case of `assessment`. Law: every opening that passes air has a stream. Pure.
AirScene air_scene(const Assessment& assessment, const airflow::CaseAir& one);

/// How much faster than the air the heads move.
inline constexpr double air_haste = 5.0;

/// An arrow head: its place and the way it points, of length 1.
struct AirHead {
  glm::dvec3 at{0.0};
  glm::dvec3 way{0.0, 0.0, 1.0};
  double fade = 1.0;  ///< 0 at a stream's ends
};
/// Heads of a stream, so far apart, `clock_s` after the start. Equal input gives equal heads.
/// Law: none when the stream has no length; each lies on the stream; after `clock_s` each is
/// pace x time further on.
std::vector<AirHead> heads_of(const AirStream& stream, double clock_s, double apart_m);

/// The case that is shown first: the calm summer noon; none without cases.
std::size_t usual_case(const airflow::Airflow& air);
/// The case whose name begins with `words`, large or small letters alike, in either way of printing
/// the wind's speed; `cases.size()` if none does. A ", the worst" of tables is passed over.
std::size_t case_named(const airflow::Airflow& air, const std::string& words);

}  // namespace ridgeward::scene
