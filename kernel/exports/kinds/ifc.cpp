// IFC4 (ISO 16739-1) as a STEP file (ISO 10303-21): what is built, not how it looks.
#include "exports/exporter.hpp"
#include "exports/meshes.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <array>
#include <map>
#include <tuple>

namespace ridgeward::exports {

namespace {

/// Spreads every bit over all (the finalizer of SplitMix64, Steele and others 2014).
std::uint64_t mixed(std::uint64_t x) {
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31U);
}

/// 128 bits from a name, the same for the same name (FNV-1a, twice from different bases), with
/// version 8 and variant bits (RFC 9562), as the 22 letters of an IFC GloballyUniqueId: six bits
/// each from the top, two in the first.
std::string guid_of(const std::string& name) {
  constexpr std::uint64_t prime = 0x100000001b3ULL;
  std::uint64_t high = 0xcbf29ce484222325ULL;
  std::uint64_t low = 0x84222325cbf29ce4ULL;
  for (const char letter : name) {
    const auto byte = static_cast<unsigned char>(letter);
    high = (high ^ byte) * prime;
    low = (low ^ (byte + 0x5bU)) * prime;
  }
  high = mixed(high ^ (low << 1U));
  low = mixed(low ^ (high >> 1U));
  high = (high & ~0xf000ULL) | 0x8000ULL;
  low = (low & ~(3ULL << 62U)) | (2ULL << 62U);
  const char* const letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$";
  std::string guid(22, '0');
  for (std::size_t i = 0; i < 22; ++i) {
    guid[21 - i] = letters[low & 63U];
    low = (low >> 6U) | (high << 58U);
    high >>= 6U;
  }
  return guid;
}

/// The letter of `length` bytes at `at`, as its number.
std::uint32_t letter_at(const std::string& utf8, std::size_t at, std::size_t length) {
  std::uint32_t code = static_cast<unsigned char>(utf8[at]) & (0xffU >> (length + 1));
  for (std::size_t k = 1; k < length && at + k < utf8.size(); ++k) {
    code = (code << 6U) | (static_cast<unsigned char>(utf8[at + k]) & 0x3fU);
  }
  return code;
}

/// A text of a STEP file: quotes doubled, what is not plain ASCII as \X2\ (ISO 10303-21, 6.4.3).
std::string text_of(const std::string& utf8) {
  std::string out = "'";
  for (std::size_t i = 0; i < utf8.size();) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    const std::size_t length = lead < 0x80U ? 1 : lead < 0xe0U ? 2 : lead < 0xf0U ? 3 : 4;
    if (length > 1) {
      out += fmt::format(fmt::runtime(length < 4 ? "\\X2\\{:04X}\\X0\\" : "\\X4\\{:08X}\\X0\\"),
                         letter_at(utf8, i, length));
    } else if (lead == '\'' || lead == '\\') {
      out += std::string(2, utf8[i]);
    } else {
      out += lead < 0x20U ? ' ' : utf8[i];
    }
    i += length;
  }
  return out + "'";
}

/// A number that STEP takes for real: with a point.
std::string real(double value) {
  std::string out = fmt::format("{:.9f}", value);
  while (out.back() == '0') {
    out.pop_back();
  }
  return out == "-0." ? "0." : out;
}

class IfcWriter {
 public:
  explicit IfcWriter(const Assessment& assessment) : a_(assessment) {}
  Result<std::string> write(const Tell& tell);

 private:
  int add(const std::string& entity) {
    data_ += fmt::format("#{}={};\n", ++last_, entity);
    return last_;
  }
  /// The first two fields of everything that has a name: its GloballyUniqueId and its owner.
  std::string root(const std::string& name) const {
    return fmt::format("'{}',#{}", guid_of(a_.model.name + "/" + name), owner_);
  }
  static std::string list(const std::vector<int>& ids);
  void frame();
  void aggregate(const std::string& name, int whole, const std::vector<int>& parts);
  int point(const glm::dvec3& p);
  int body_of(const solid::Mesh& mesh);
  int shape(int item, const char* kind);
  void decks(const MeshGroup& group);
  void members(const MeshGroup& group);
  void openings();

  const Assessment& a_;
  std::string data_;
  int last_ = 0;
  int owner_ = 0;
  int placement_ = 0;
  int context_ = 0;
  int storey_ = 0;
  std::map<std::tuple<double, double, double>, int> points_;  ///< of the body at hand
  std::map<std::string, int> slabs_;                          ///< by plane id
  std::vector<int> in_roof_;
  std::vector<int> in_storey_;
};

std::string IfcWriter::list(const std::vector<int>& ids) {
  std::string out;
  for (const int id : ids) {
    out += fmt::format("{}#{}", out.empty() ? "" : ",", id);
  }
  return "(" + out + ")";
}

void IfcWriter::aggregate(const std::string& name, int whole, const std::vector<int>& parts) {
  if (!parts.empty()) {
    add(fmt::format("IFCRELAGGREGATES({},$,$,#{},{})", root(name + "/parts"), whole, list(parts)));
  }
}

/// Project, units, site, building, storey.
void IfcWriter::frame() {
  // No date and nobody's name: equal models give equal bytes. IFC4 could do without an owner, older
  // readers can't.
  const int person = add("IFCPERSON($,$,'',$,$,$,$,$)");
  const int firm = add("IFCORGANIZATION($,'',$,$,$)");
  const int both = add(fmt::format("IFCPERSONANDORGANIZATION(#{},#{},$)", person, firm));
  const int program = add(fmt::format("IFCAPPLICATION(#{},'0.1.0','Ridgeward','ridgeward')", firm));
  owner_ = add(fmt::format("IFCOWNERHISTORY(#{},#{},$,.NOCHANGE.,$,$,$,0)", both, program));
  const int origin = add("IFCCARTESIANPOINT((0.,0.,0.))");
  const int up = add("IFCDIRECTION((0.,0.,1.))");
  const int east = add("IFCDIRECTION((1.,0.,0.))");
  const int axes = add(fmt::format("IFCAXIS2PLACEMENT3D(#{},#{},#{})", origin, up, east));
  const double turned = a_.model.site.north_deg * M_PI / 180;
  const int north =
      add(fmt::format("IFCDIRECTION(({},{}))", real(std::sin(turned)), real(std::cos(turned))));
  const int model =
      add(fmt::format("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-6,#{},#{})", axes, north));
  context_ = add(fmt::format(
      "IFCGEOMETRICREPRESENTATIONSUBCONTEXT('Body','Model',*,*,*,*,#{},$,.MODEL_VIEW.,$)", model));
  std::vector<int> units;
  for (const char* unit : {"LENGTHUNIT.,$,.METRE.", "AREAUNIT.,$,.SQUARE_METRE.",
                           "VOLUMEUNIT.,$,.CUBIC_METRE.", "PLANEANGLEUNIT.,$,.RADIAN."}) {
    units.push_back(add(fmt::format("IFCSIUNIT(*,.{})", unit)));
  }
  const int assigned = add(fmt::format("IFCUNITASSIGNMENT({})", list(units)));
  const std::string name = text_of(a_.model.name);
  const int project = add(
      fmt::format("IFCPROJECT({},{},$,$,$,$,(#{}),#{})", root("project"), name, model, assigned));
  placement_ = add(fmt::format("IFCLOCALPLACEMENT($,#{})", axes));
  const int site = add(
      fmt::format("IFCSITE({},'Site',$,$,#{},$,$,.ELEMENT.,$,$,$,$,$)", root("site"), placement_));
  const int building = add(fmt::format("IFCBUILDING({},{},$,$,#{},$,$,.ELEMENT.,$,$,$)",
                                       root("building"), name, placement_));
  storey_ = add(fmt::format("IFCBUILDINGSTOREY({},'Roof',$,$,#{},$,$,.ELEMENT.,$)", root("storey"),
                            placement_));
  aggregate("project", project, {site});
  aggregate("site", site, {building});
  aggregate("building", building, {storey_});
}

int IfcWriter::point(const glm::dvec3& p) {
  // Corners that meshes name once for each face are one point of the body.
  const auto rounded = [](double x) { return std::round(x * 1e9) / 1e9 + 0.0; };
  const auto key = std::tuple{rounded(p.x), rounded(p.y), rounded(p.z)};
  const auto known = points_.find(key);
  if (known != points_.end()) {
    return known->second;
  }
  const int id = add(fmt::format("IFCCARTESIANPOINT(({},{},{}))", real(p.x), real(p.y), real(p.z)));
  points_[key] = id;
  return id;
}

/// A closed body of triangles.
int IfcWriter::body_of(const solid::Mesh& mesh) {
  points_.clear();
  std::vector<int> faces;
  for (std::size_t i = 0; i + 2 < mesh.corners.size(); i += 3) {
    const std::array<int, 3> c{point(mesh.points[mesh.corners[i]]),
                               point(mesh.points[mesh.corners[i + 1]]),
                               point(mesh.points[mesh.corners[i + 2]])};
    if (c[0] == c[1] || c[1] == c[2] || c[0] == c[2]) {
      continue;
    }
    const int loop = add(fmt::format("IFCPOLYLOOP((#{},#{},#{}))", c[0], c[1], c[2]));
    const int bound = add(fmt::format("IFCFACEOUTERBOUND(#{},.T.)", loop));
    faces.push_back(add(fmt::format("IFCFACE((#{}))", bound)));
  }
  const int shell = add(fmt::format("IFCCLOSEDSHELL({})", list(faces)));
  return add(fmt::format("IFCFACETEDBREP(#{})", shell));
}

int IfcWriter::shape(int item, const char* kind) {
  const int body =
      add(fmt::format("IFCSHAPEREPRESENTATION(#{},'Body','{}',(#{}))", context_, kind, item));
  return add(fmt::format("IFCPRODUCTDEFINITIONSHAPE($,$,(#{}))", body));
}

void IfcWriter::decks(const MeshGroup& group) {
  for (const MeshGroup::Named& named : group.all) {
    const std::string id = named.name.substr(named.name.find('/') + 1);
    const int form = shape(body_of(named.mesh), "Brep");
    const int slab = add(fmt::format("IFCSLAB({},{},$,$,#{},#{},$,.ROOF.)", root(named.name),
                                     text_of(id), placement_, form));
    slabs_.emplace(id, slab);
    in_roof_.push_back(slab);
  }
}

const char* member_type(framing::MemberKind kind) {
  using Kind = framing::MemberKind;
  if (framing::is_truss(kind)) {
    return "CHORD";
  }
  switch (kind) {
    case Kind::common:
    case Kind::hip_jack:
    case Kind::valley_jack:
    case Kind::cripple_jack:
    case Kind::hip:
    case Kind::valley:
    case Kind::barge_rafter:
    case Kind::trimmer:
      return "RAFTER";
    case Kind::collar_tie:
      return "COLLAR";
    default:
      return "MEMBER";
  }
}

void IfcWriter::members(const MeshGroup& group) {
  std::map<std::string, framing::MemberKind> kinds;
  for (const framing::Member& member : a_.framing.members) {
    kinds[member.id] = member.kind;
  }
  for (const MeshGroup::Named& named : group.all) {
    const std::string id = named.name.substr(named.name.find('/') + 1);
    const framing::MemberKind kind = kinds.at(id);
    const int form = shape(body_of(named.mesh), "Brep");
    in_storey_.push_back(
        add(fmt::format("IFCMEMBER({},{},$,'{}',#{},#{},$,.{}.)", root(named.name), text_of(id),
                        framing::word(kind), placement_, form, member_type(kind))));
  }
}

/// Each slot as an upright prism through its slab, a little longer than the deck is thick.
void IfcWriter::openings() {
  for (const vents::Slot& slot : a_.vents.slots) {
    const surface::Plane& plane = a_.surface.planes[slot.plane];
    const auto slab = slabs_.find(plane.id);
    const double width_m = slot.width_m;
    if (slab == slabs_.end() || model::is_in_soffit(slot.kind) || width_m <= 0.0 ||
        slot.end_m <= slot.start_m) {
      continue;
    }
    const double deck_m = a_.model.parts[plane.part].deck_m;
    const auto coordinates = [](const glm::dvec3& v) {
      return fmt::format("({},{},{})", real(v.x), real(v.y), real(v.z));
    };
    const glm::dvec3 middle =
        plane.frame.at({0.5 * (slot.start_m + slot.end_m), slot.lower_v_m() + 0.5 * width_m}) -
        1.5 * deck_m * plane.frame.normal;
    const int at = add("IFCCARTESIANPOINT(" + coordinates(middle) + ")");
    const int axis = add("IFCDIRECTION(" + coordinates(plane.frame.normal) + ")");
    const int along = add("IFCDIRECTION(" + coordinates(plane.frame.along) + ")");
    const int axes = add(fmt::format("IFCAXIS2PLACEMENT3D(#{},#{},#{})", at, axis, along));
    const int centre = add("IFCCARTESIANPOINT((0.,0.))");
    const int flat = add(fmt::format("IFCAXIS2PLACEMENT2D(#{},$)", centre));
    const int profile = add(fmt::format("IFCRECTANGLEPROFILEDEF(.AREA.,$,#{},{},{})", flat,
                                        real(slot.end_m - slot.start_m), real(width_m)));
    const int up = add("IFCDIRECTION((0.,0.,1.))");
    const int solid = add(
        fmt::format("IFCEXTRUDEDAREASOLID(#{},#{},#{},{})", profile, axes, up, real(2.0 * deck_m)));
    const int form = shape(solid, "SweptSolid");
    const std::string name = "slots/" + slot.id;
    const int opening = add(fmt::format("IFCOPENINGELEMENT({},{},$,'slot',#{},#{},$,.OPENING.)",
                                        root(name), text_of(slot.id), placement_, form));
    add(fmt::format("IFCRELVOIDSELEMENT({},$,$,#{},#{})", root(name + "/voids"), slab->second,
                    opening));
  }
}

Result<std::string> IfcWriter::write(const Tell& tell) {
  const Content content{false, true, false, false, true};
  const Result<std::vector<MeshGroup>> groups = meshes_of(a_, content, tell);
  if (!groups) {
    return groups.faults();
  }
  frame();
  for (const MeshGroup& group : groups.value()) {
    if (group.name == "deck") {
      decks(group);
    } else {
      members(group);
    }
  }
  openings();
  const int roof = add(fmt::format("IFCROOF({},{},$,$,#{},$,$,.NOTDEFINED.)", root("roof"),
                                   text_of(a_.model.name), placement_));
  aggregate("roof", roof, in_roof_);
  in_storey_.push_back(roof);
  add(fmt::format("IFCRELCONTAINEDINSPATIALSTRUCTURE({},$,$,{},#{})", root("storey/contains"),
                  list(in_storey_), storey_));
  // No date: equal models give equal bytes.
  return "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [ReferenceView]'),'2;1');\n"
         "FILE_NAME(" +
         text_of(a_.model.name + ".ifc") +
         ",'',(''),(''),'Ridgeward','Ridgeward','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n" +
         data_ + "ENDSEC;\nEND-ISO-10303-21;\n";
}

/// Always the deck with its slots as openings, and the timber, whatever is asked for.
Result<std::string> write_ifc(const Assessment& assessment, const Content& content,
                              const Tell& tell) {
  static_cast<void>(content);
  return IfcWriter(assessment).write(tell);
}

}  // namespace

extern const Exporter ifc_kind;
const Exporter ifc_kind{
    ".ifc", "roof, slabs, members and openings for building models; IFC4 (metres)", write_ifc};

}  // namespace ridgeward::exports
