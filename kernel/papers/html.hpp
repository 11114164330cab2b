#pragma once
// The assessment as one HTML file: the papers' tables, and the roof in 3D for a finger or a mouse.
// It asks nothing of a network.

#include "assess.hpp"
#include "units/length.hpp"

#include <string>
#include <string_view>

namespace ridgeward::papers {

/// What the page is made of besides the assessment. All of it goes into the file.
struct ReportParts {
  std::string library;   ///< three.js and what of it the script uses; JavaScript
  std::string licence;   ///< who made the library and on what terms, for people
  std::string script;    ///< what draws the roof and answers to fingers; JavaScript
  std::string look;      ///< style sheet
  std::string roof_glb;  ///< the roof; glTF 2.0, binary (exports/exporter.hpp)
};

/// UTF-8. Every text of the model is escaped, so names can't become markup or script. The page
/// forbids itself to load anything (content security policy). Equal input gives equal bytes.
/// Faults: paper.failed (a drawing on it).
Result<std::string> to_html(const Assessment& assessment, units::Style style,
                            const ReportParts& parts);

/// `text` with & < > " ' as entities: for text between tags and for values in quotes. Bytes that
/// are no UTF-8 and control characters become U+FFFD.
std::string escaped(std::string_view text);

/// RFC 4648, section 4.
std::string base64(std::string_view bytes);

/// What can be pointed at in the 3D view: each plane, line, opening and finding with its place and
/// its figures as text, as JSON that holds no "<" and so can stand in a script element. Metres, z
/// up. Private to the report and its tests.
std::string things_json(const Assessment& assessment, units::Style style);

}  // namespace ridgeward::papers
