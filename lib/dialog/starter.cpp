#include "dialog/starter.h"

#include <algorithm>
#include <ostream>

#include "dialog/project_text.h"
#include "dialog/prompter.h"
#include "opening/words.h"

namespace jambcheck::dialog {
namespace {

constexpr const char* kUnknown = "unknown";
constexpr const char* kHead =
    "A project for jambcheck. Put in what you know; every number with its unit: 8'-0\", 24 in, 165 lb, 20 psf.\n"
    "What stays unknown leads to a question, never to a guess. Lines that you do not need may go.\n"
    "More openings: copy from \"- mark\" on, or write  - {mark: D-2, like: D-1}  and what differs.";

/// What a first check asks for, whatever the jamb is made of.
const char* const kFields[] = {
    "site.wind.inward", "site.wind.outward", "site.wind.level", "site.wind.from", "size", "mount", "face", "gap", "door.weight", "door.barrel_weight", "door.windlocks",
    "door.axle_projection", "door.spring_torque", "door.spring_torque_open", "door.curtain_leaves", "door.operator", "jamb.kind", "guide.fastener", "guide.plate", "guide.steel",
    "guide.first", "guide.spacing", "guide.edge", "guide.lip", "guide.toe", "bracket.fastener", "bracket.count", "bracket.across", "bracket.along", "bracket.plate",
    "bracket.plate_thickness", "bracket.steel", "bracket.axle_offset", "bracket.edge", "bracket.end"};

/// What else is asked of a jamb of this material.
std::vector<std::string> fields_of(const std::string& material) {
  if (material == "wood") return {"jamb.species", "jamb.size", "site.moisture"};
  if (material == "masonry") return {"jamb.size", "jamb.filled", "jamb.grouted", "jamb.mortar", "jamb.unit_strength", "jamb.unit_table", "jamb.joint_at_jamb", "jamb.supported", "site.seismic.category"};
  if (material == "concrete") return {"jamb.thickness", "jamb.strength", "jamb.weight", "jamb.cracked", "jamb.supported", "site.seismic.category"};
  if (material == "steel") return {"jamb.form", "jamb.thickness", "jamb.grade"};
  return {};
}

}  // namespace

Starter::Starter(const rules::RuleSet& rules) : rules_(rules) {
  set("project.name", "My project");
  set("project.method", "ASD");
  set("mark", "D-1");
  for (const char* field : kFields) set(field, kUnknown);
}

void Starter::set(const std::string& path, const std::string& text) {
  for (auto& value : values_)
    if (value.path == path) {
      value.text = text;
      return;
    }
  values_.push_back({path, text, {}});
}

std::string Starter::value_of(const std::string& path) const {
  const auto it = std::find_if(values_.begin(), values_.end(), [&](const auto& v) { return v.path == path; });
  return it == values_.end() ? "" : it->text;
}

void Starter::ask(std::istream& in, std::ostream& out) {
  text::SourceSet sources;
  Prompter prompter(rules_, sources, in, out);
  out << "A few questions; the answers go into the file. unknown or Enter: left open. stop: no more questions.\n";
  const auto put = [&](const std::string& path, const std::string& what) {
    if (prompter.stopped()) return;
    out << "\n" << what << "\n";
    const auto answer = prompter.ask(path);
    if (answer.kind == Prompter::Kind::value) set(path, answer.value.text);
  };
  put("project.name", "What is the project called?");
  put("mark", "Which mark has the opening on the plans?");
  put("size", "How large is the clear opening, width x height?");
  put("jamb.kind", "What is the jamb made of?");
  put("mount", "Are the guides on the face of the wall, or between the jambs?");
  put("face", "On which side of the wall does the door hang?");
  put("door.windlocks", "Does the curtain have windlocks, which hold it in the guides?");
  put("door.weight", "How heavy is the whole door?");
  put("guide.fastener", "Which fastener holds the guides?");
  put("guide.spacing", "How far apart are they up the jamb?");
  put("bracket.fastener", "Which fastener holds the brackets?");
  put("bracket.count", "How many hold one bracket?");
}

std::string Starter::text() const {
  ProjectText project{values_, kHead, true};
  const std::string material = opening::choose(opening::word_list("own:jamb_material", rules_), value_of("jamb.kind"));
  for (const auto& field : fields_of(material)) project.values.push_back({field, kUnknown, {}});
  return write_project(project, rules_);
}

}  // namespace jambcheck::dialog
