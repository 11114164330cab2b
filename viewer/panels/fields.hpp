#pragma once
// Fields that are typed into; private to the folder. What was typed is read with kernel/units in
// the style shown, and a text that is none is said in place.

#include "panels/pieces.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::panels {

/// Where fields put what they ask for.
struct Form {
  const Look& look;
  Recorder& recorder;
  Intents& intents;
  float label_width = 110.0F;
  float right_room = 0.0F;  ///< kept free beside a field, in pixels
};

/// What was typed and entered, once; none while nothing was.
std::optional<std::string> text_field(const Form& form, const std::string& id, const char* label,
                                      const std::string& shown);
/// Likewise a length in metres, a pitch, a number between two bounds. A text that can't be read
/// asks for nothing and is said below the field.
std::optional<double> length_field(const Form& form, const std::string& id, const char* label,
                                   double length_m);
std::optional<units::Pitch> pitch_field(const Form& form, const std::string& id, const char* label,
                                        units::Pitch pitch);
std::optional<double> number_field(const Form& form, const std::string& id, const char* label,
                                   double number);
/// A temperature in degrees C, shown and typed in the unit chosen; its label gets the unit's sign.
std::optional<double> temperature_field(const Form& form, const std::string& id,
                                        const std::string& label, double celsius);
/// Likewise a speed in m/s, in miles an hour with feet and inches.
std::optional<double> speed_field(const Form& form, const std::string& id, const std::string& label,
                                  double speed_ms);
/// In the unit chosen, and back; to a tenth.
double shown_temperature(double celsius, units::Style style);
double celsius_of(double shown, units::Style style);
const char* temperature_sign(units::Style style);  ///< "°F"

/// One of several; the index of another one when it was chosen.
std::optional<std::size_t> choice_field(const Form& form, const std::string& id, const char* label,
                                        const std::vector<std::string>& words, std::size_t chosen);
/// Its new state when it was pressed.
std::optional<bool> check_field(const Form& form, const std::string& id, const char* label,
                                bool on);
bool button(const Form& form, const std::string& id, const std::string& words, float width = 0.0F,
            bool is_enabled = true);

/// `text` with the letters of this frame, or one less: for boxes that have the keys from the frame
/// on in which they are shown; the library's own fields lose what is typed before.
std::string typed_on(std::string text);

/// A length as fields show it: with all that was typed, "28' 6 1/2\"", "8.7 m".
std::string length_text(double length_m, units::Style style);
/// What a person typed, in metres; a bare number is feet or metres.
std::optional<double> typed_length(const std::string& text, units::Style style);
/// A number and nothing else.
std::optional<double> typed_number(const std::string& text);
/// A slope as fields show it: "8/12", or "33.69 deg" in metric.
std::string pitch_text(units::Pitch pitch, units::Style style);
/// "8/12", "33.7 deg"; a bare number is its rise in 12, in metric its degrees.
std::optional<units::Pitch> typed_pitch(const std::string& text, units::Style style);

}  // namespace ridgeward::panels
