// DXF and IFC as other programs meet them: read back by dxflib, by assimp and by IFC++.
#include "exports/bodies_of.hpp"
#include "exports/exporter.hpp"
#include "model/read.hpp"

#include "support/assessed_house.hpp"
#include "support/ifc4.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <assimp/Importer.hpp>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#include <map>
#include <regex>
#include <set>
#include <sstream>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// What dxflib finds: lengths of the lines by layer, and the layers that the table names.
class Lengths : public DL_CreationAdapter {
 public:
  void addLayer(const DL_LayerData& layer) override { named.insert(layer.name); }
  void addLine(const DL_LineData& line) override {
    by_layer[attributes.getLayer()] +=
        glm::length(glm::dvec3{line.x2 - line.x1, line.y2 - line.y1, line.z2 - line.z1});
  }
  void addText(const DL_TextData& text) override { texts.insert(text.text); }

  std::map<std::string, double> by_layer;
  std::set<std::string> named;
  std::set<std::string> texts;
};

Lengths read_dxf(const std::string& bytes) {
  Lengths lengths;
  std::stringstream stream(bytes);
  DL_Dxf reader;
  REQUIRE(reader.in(stream, &lengths));
  for (const auto& [layer, length] : lengths.by_layer) {
    INFO(layer);
    REQUIRE(lengths.named.count(layer) == 1);
  }
  return lengths;
}

double volume_of(const aiMesh& mesh) {
  double six = 0.0;
  for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
    const aiFace& face = mesh.mFaces[f];
    const auto at = [&](unsigned k) {
      const aiVector3D& p = mesh.mVertices[face.mIndices[k]];
      return glm::dvec3{p.x, p.y, p.z};
    };
    six += glm::dot(at(0), glm::cross(at(1), at(2)));
  }
  return std::abs(six) / 6;
}

/// Volumes by the kind and name of the element ("IfcSlab_main/0").
void gather(const aiScene& scene, const aiNode& node, std::map<std::string, double>& volumes) {
  const std::string whole = node.mName.C_Str();
  if (node.mNumMeshes > 0) {
    const std::string name = whole.substr(0, whole.size() - 23);  // less the GloballyUniqueId
    for (unsigned i = 0; i < node.mNumMeshes; ++i) {
      volumes[name] += volume_of(*scene.mMeshes[node.mMeshes[i]]);
    }
  }
  for (unsigned i = 0; i < node.mNumChildren; ++i) {
    gather(scene, *node.mChildren[i], volumes);
  }
}

}  // namespace

TEST_CASE("DXF read back by dxflib: lengths by layer are the takeoff's") {
  for (const char* house : {"sorrel-lane", "quarry-rise", "heron-court"}) {
    const Assessment a = assessed(house);
    const Lengths read = read_dxf(written(a, "x.dxf"));
    const double unit_m =
        a.model.unit == units::LengthUnit::ft || a.model.unit == units::LengthUnit::in
            ? units::inch_m
            : 0.001;
    const auto length_m = [&](const std::string& layer) {
      const auto found = read.by_layer.find(layer);
      return found == read.by_layer.end() ? 0.0 : found->second * unit_m;
    };
    CAPTURE(house);
    const takeoff::Lengths& totals = a.takeoff.totals;
    CHECK(length_m("EAVE") == Approx(totals.eave_m).epsilon(1e-6));
    CHECK(length_m("RAKE") == Approx(totals.rake_m).epsilon(1e-6));
    CHECK(length_m("RIDGE") == Approx(totals.ridge_m).epsilon(1e-6));
    CHECK(length_m("HIP") == Approx(totals.hip_m).epsilon(1e-6));
    CHECK(length_m("VALLEY") == Approx(totals.valley_m).epsilon(1e-6));
    CHECK(length_m("HEADWALL") + length_m("SIDEWALL") + length_m("STEP_WALL") ==
          Approx(totals.wall_m).epsilon(1e-6));
    double slots = 0.0;
    for (const vents::Slot& slot : a.vents.slots) {
      slots += 2 * (slot.end_m - slot.start_m + slot.width_m);
    }
    CHECK(length_m("SLOT") == Approx(slots).epsilon(1e-6));
    double hips = 0.0;
    for (const framing::Member& member : a.framing.members) {
      if (member.kind == framing::MemberKind::hip && member.part_of.is_none()) {
        hips += member.length_m;
      }
    }
    CHECK(length_m("HIP_RAFTER") == Approx(hips).epsilon(1e-6));
    const units::Style style = units::style_of(a.model.unit);
    for (const surface::Plane& plane : a.surface.planes) {
      REQUIRE(read.texts.count(plane.id + "  " + units::show_pitch(plane.pitch, style)) == 1);
    }
  }
}

TEST_CASE("DXF elevations: what stands behind is left out") {
  // Sorrel Lane from the south: the eave of 26 ft, in front of it the wing's gable of 25 ft with
  // rakes of 15 ft 1/4 in; eaves that run away from the eye are points.
  const Lengths read = read_dxf(written(assessed("sorrel-lane"), "x.dxf"));
  CHECK(read.by_layer.at("ELEV_S_EAVE") / 12 == Approx(26.0));
  CHECK(read.by_layer.at("ELEV_S_WALL") / 12 == Approx(25.0));
  CHECK(read.by_layer.at("ELEV_S_RAKE") / 12 == Approx(25 * std::hypot(12.0, 8.0) / 12));
  CHECK(read.by_layer.at("ELEV_S_RIDGE") / 12 == Approx(20.0));
  CHECK(read.by_layer.at("ELEV_N_EAVE") / 12 == Approx(51.0));
  CHECK(read.by_layer.count("ELEV_N_VALLEY") == 0);
  CHECK(read.texts.count("ELEVATION W") == 1);
}

TEST_CASE("IFC read back by assimp: every slab and member, with its volume") {
  for (const char* house : {"sorrel-lane", "tern-cottage"}) {
    CAPTURE(house);
    const Assessment a = assessed(house);
    const std::string bytes = written(a, "x.ifc");
    Assimp::Importer importer;
    const aiScene* scene =
        importer.ReadFileFromMemory(bytes.data(), bytes.size(), aiProcess_Triangulate, "ifc");
    INFO(importer.GetErrorString());
    REQUIRE(scene != nullptr);
    std::map<std::string, double> volumes;
    gather(*scene, *scene->mRootNode, volumes);
    const auto bodies = exports::bodies_of(a, {false, true, false, false, true});
    REQUIRE(bodies.ok());
    std::size_t elements = 0;
    for (const solid::Body& body : bodies.value()) {
      const std::size_t slash = body.name.find('/');
      const bool is_deck = body.name.substr(0, slash) == "deck";
      const std::string name = (is_deck ? "IfcSlab_" : "IfcMember_") + body.name.substr(slash + 1);
      CAPTURE(name);
      const auto found = volumes.find(name);
      REQUIRE(found != volumes.end());
      REQUIRE(found->second == Approx(solid::examine(body.shape).volume_m3).epsilon(2e-3));
      ++elements;
    }
    REQUIRE(elements == bodies.value().size());
  }
}

TEST_CASE("IFC read back by a reader of IFC4: the tree, the kinds, the openings") {
  for (const char* house : {"sorrel-lane", "tern-cottage", "plover-hall"}) {
    CAPTURE(house);
    const Assessment a = assessed(house);
    const std::string bytes = written(a, "x.ifc");
    const IfcTree tree = read_ifc4(bytes);
    CHECK(tree.schema == "IFC4");
    CHECK(tree.messages.empty());
    std::size_t written_entities = 0;
    std::istringstream lines(bytes);
    for (std::string line; std::getline(lines, line);) {
      written_entities += line.rfind('#', 0) == 0 ? 1 : 0;
    }
    CHECK(tree.entities == written_entities);
    REQUIRE(tree.place.size() == 4);
    CHECK(tree.place.front() == a.model.name);
    CHECK(tree.roofs == 1);

    const auto bodies = exports::bodies_of(a, {false, true, false, false, true});
    REQUIRE(bodies.ok());
    std::set<std::string> expected;
    for (const solid::Body& body : bodies.value()) {
      const std::size_t slash = body.name.find('/');
      expected.insert((body.name.substr(0, slash) == "deck" ? "IfcSlab " : "IfcMember ") +
                      body.name.substr(slash + 1));
    }
    std::set<std::string> slots;
    std::set<std::string> found;
    for (const IfcElement& one : tree.elements) {
      CAPTURE(one.name);
      found.insert(one.kind + " " + one.name);
      CHECK(!one.type.empty());
      CHECK((one.kind != "IfcSlab" || one.type == "ROOF"));
      for (const std::string& opening : one.openings) {
        CHECK(slots.insert(opening).second);
        for (const vents::Slot& slot : a.vents.slots) {
          CHECK((slot.id != opening || a.surface.planes[slot.plane].id == one.name));
        }
      }
    }
    CHECK(found == expected);
    CHECK(tree.elements.size() == expected.size());
    CHECK(slots.size() == a.vents.slots.size());
  }
}

TEST_CASE("IFC: ids are told once, names are valid, every slot voids its slab") {
  const Assessment a = assessed("sorrel-lane");
  const std::string bytes = written(a, "x.ifc");
  const bool is_same = bytes == written(a, "x.ifc");
  CHECK(is_same);
  std::set<std::string> defined;
  std::set<std::string> guids;
  std::map<std::string, int> counts;
  std::istringstream lines(bytes);
  const std::regex entity("^(#[0-9]+)=(IFC[A-Z0-9]+)\\((.*)\\);$");
  // ISO 16739-1, IfcGloballyUniqueId: 22 letters of 64, the first of four.
  const std::regex guid("^'([0-3][0-9A-Za-z_$]{21})',#");
  const std::regex reference("#[0-9]+");
  for (std::string line; std::getline(lines, line);) {
    std::smatch parts;
    if (!std::regex_match(line, parts, entity)) {
      continue;
    }
    const std::string fields = parts[3];
    for (std::sregex_iterator it(fields.begin(), fields.end(), reference), end; it != end; ++it) {
      REQUIRE(defined.count(it->str()) == 1);
    }
    REQUIRE(defined.insert(parts[1]).second);
    ++counts[parts[2]];
    std::smatch name;
    if (std::regex_search(fields, name, guid)) {
      REQUIRE(guids.insert(name[1]).second);
    }
  }
  CHECK(counts["IFCPROJECT"] == 1);
  CHECK(counts["IFCROOF"] == 1);
  CHECK(counts["IFCOPENINGELEMENT"] == static_cast<int>(a.vents.slots.size()));
  CHECK(counts["IFCRELVOIDSELEMENT"] == static_cast<int>(a.vents.slots.size()));
  CHECK(counts["IFCSLAB"] ==
        static_cast<int>(a.surface.planes.size() + a.surface.blind_decks.size()));
  const int named = counts["IFCSLAB"] + counts["IFCMEMBER"] + counts["IFCOPENINGELEMENT"] +
                    counts["IFCRELVOIDSELEMENT"] + counts["IFCRELAGGREGATES"] +
                    counts["IFCRELCONTAINEDINSPATIALSTRUCTURE"] + 5;
  CHECK(guids.size() == static_cast<std::size_t>(named));
}
