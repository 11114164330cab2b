#include "support/ifc4.hpp"

#include <ifcpp/IFC4/include/IfcBuilding.h>
#include <ifcpp/IFC4/include/IfcBuildingStorey.h>
#include <ifcpp/IFC4/include/IfcLabel.h>
#include <ifcpp/IFC4/include/IfcMember.h>
#include <ifcpp/IFC4/include/IfcOpeningElement.h>
#include <ifcpp/IFC4/include/IfcProject.h>
#include <ifcpp/IFC4/include/IfcRelAggregates.h>
#include <ifcpp/IFC4/include/IfcRelContainedInSpatialStructure.h>
#include <ifcpp/IFC4/include/IfcRelVoidsElement.h>
#include <ifcpp/IFC4/include/IfcRoof.h>
#include <ifcpp/IFC4/include/IfcSite.h>
#include <ifcpp/IFC4/include/IfcSlab.h>
#include <ifcpp/IFC4/include/IfcSlabTypeEnum.h>
#include <ifcpp/model/BuildingModel.h>
#include <ifcpp/reader/ReaderSTEP.h>

namespace ridgeward::support {

namespace {

std::string narrow(const std::wstring& text) {
  std::string out;
  for (const wchar_t c : text) {
    out += c < 0x80 ? static_cast<char>(c) : '?';
  }
  return out;
}

std::string text_of(const std::shared_ptr<IfcLabel>& label) {
  return label ? narrow(label->m_value) : std::string();
}

/// What an object is made of, by the inverse attribute that the reader works out.
template <class Whole>
std::vector<std::shared_ptr<IfcObjectDefinition>> parts_of(const Whole& whole) {
  std::vector<std::shared_ptr<IfcObjectDefinition>> all;
  for (const auto& weak : whole.m_IsDecomposedBy_inverse) {
    if (const auto relation = weak.lock()) {
      all.insert(all.end(), relation->m_RelatedObjects.begin(), relation->m_RelatedObjects.end());
    }
  }
  return all;
}

IfcElement element_of(const IfcElement& start, const ::IfcElement& element) {
  IfcElement one = start;
  one.name = text_of(element.m_Name);
  one.type = text_of(element.m_ObjectType);
  for (const auto& weak : element.m_HasOpenings_inverse) {
    if (const auto relation = weak.lock()) {
      one.openings.push_back(text_of(relation->m_RelatedOpeningElement->m_Name));
    }
  }
  return one;
}

void add_roof(const IfcRoof& roof, IfcTree& tree) {
  ++tree.roofs;
  for (const auto& part : parts_of(roof)) {
    if (const auto slab = std::dynamic_pointer_cast<IfcSlab>(part)) {
      IfcElement one = element_of({"IfcSlab", {}, {}, {}}, *slab);
      if (slab->m_PredefinedType && slab->m_PredefinedType->m_enum == IfcSlabTypeEnum::ENUM_ROOF) {
        one.type = "ROOF";
      }
      tree.elements.push_back(one);
    }
  }
}

void add_storey(const IfcBuildingStorey& storey, IfcTree& tree) {
  for (const auto& weak : storey.m_ContainsElements_inverse) {
    if (const auto relation = weak.lock()) {
      for (const auto& element : relation->m_RelatedElements) {
        if (const auto roof = std::dynamic_pointer_cast<IfcRoof>(element)) {
          add_roof(*roof, tree);
        } else if (const auto member = std::dynamic_pointer_cast<IfcMember>(element)) {
          tree.elements.push_back(element_of({"IfcMember", {}, {}, {}}, *member));
        }
      }
    }
  }
}

template <class Kind>
void go_down(const IfcObjectDefinition& from, IfcTree& tree,
             std::shared_ptr<IfcObjectDefinition>& to) {
  for (const auto& part : parts_of(from)) {
    if (std::dynamic_pointer_cast<Kind>(part)) {
      tree.place.push_back(text_of(part->m_Name));
      to = part;
    }
  }
}

void keep(void* to, std::shared_ptr<StatusCallback::Message> message) {
  const auto type = message->m_message_type;
  if (type == StatusCallback::MESSAGE_TYPE_WARNING || type == StatusCallback::MESSAGE_TYPE_ERROR ||
      type == StatusCallback::MESSAGE_TYPE_MINOR_WARNING) {
    static_cast<IfcTree*>(to)->messages.push_back(narrow(message->m_message_text));
  }
}

}  // namespace

IfcTree read_ifc4(std::string bytes) {
  IfcTree tree;
  auto model = std::make_shared<BuildingModel>();
  ReaderSTEP reader;
  reader.setMessageCallBack(&tree, &keep);
  model->setMessageCallBack(&tree, &keep);
  reader.loadModelFromString(bytes, model);
  tree.entities = model->getMapIfcEntities().size();
  tree.schema = narrow(model->getIfcSchemaVersion().m_IFC_FILE_SCHEMA);
  std::shared_ptr<IfcObjectDefinition> at = model->getIfcProject();
  if (!at) {
    return tree;
  }
  tree.place.push_back(text_of(at->m_Name));
  go_down<IfcSite>(*at, tree, at);
  go_down<IfcBuilding>(*at, tree, at);
  go_down<IfcBuildingStorey>(*at, tree, at);
  if (const auto storey = std::dynamic_pointer_cast<IfcBuildingStorey>(at)) {
    add_storey(*storey, tree);
  }
  return tree;
}

}  // namespace ridgeward::support
