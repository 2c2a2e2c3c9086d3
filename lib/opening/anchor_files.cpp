#include "opening/anchor_files.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <system_error>
#include <tuple>

#include "opening/anchor_data.h"
#include "text/suggest.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;
namespace fs = std::filesystem;

constexpr std::string_view kFiles = "anchor_data.";
constexpr std::string_view kParts[] = {"guide", "bracket", "buck"};

/// What the fasteners of openings name among the data of the project.
class LookUp {
 public:
  LookUp(const Project& project, text::Diagnostics& diagnostics) : project_(project), diagnostics_(diagnostics) {}

  void all_of(Opening& opening) {
    for (const auto part : kParts)
      for (const Side side : {Side::left, Side::right})
        if (!one(opening, std::string(part) + ".fastener", side)) opening.broken = true;
  }

 private:
  /// False when the fastener names data that it can't have.
  bool one(const Opening& opening, const std::string& fastener, Side side) {
    const Fact* named = fact(opening, fastener + ".data", side);
    if (!named || named->unknown || named->word == kNoData) return true;
    const std::string label = opening.mark + " " + fastener + ".data";
    const AnchorData* data = find_data(project_, named->word);
    if (!data) return tell(MessageId::A013, named->place, {label, named->word, advice(named->word)}), false;
    const Fact* kind = fact(opening, fastener + ".kind", side);
    if (kind && !kind->unknown && kind->word != data->kind)
      return tell(MessageId::A014, named->place, {label, data->name, in_words(data->kind), in_words(kind->word)}), false;
    look_for_size(opening, *data, fastener, side, label, named->place);
    return true;
  }
  /// One line of the file may hold on both sides and for copies: it is told once.
  void tell(MessageId id, const text::Place& place, const text::Args& args) {
    if (told_.insert({place.line, place.column, id}).second) diagnostics_.add(id, place, args);
  }
  void look_for_size(const Opening& opening, const AnchorData& data, const std::string& fastener, Side side, const std::string& label, const text::Place& place) {
    const Fact *diameter = fact(opening, fastener + ".diameter", side), *embedment = fact(opening, fastener + ".embedment", side), *base = fact(opening, "jamb.material", side);
    if (!diameter || diameter->unknown || !embedment || embedment->unknown || !base || base->unknown) return;
    const AnchorMatch match = find_size(data, {data.kind, diameter->value, embedment->value, base->word, "", ""});
    if (!match.size && !match.open) tell(MessageId::A015, place, {label, match.why});
  }
  [[nodiscard]] std::string advice(const std::string& name) const {
    std::vector<std::string> known;
    for (const auto& data : project_.anchors) known.push_back(data->name);
    return known.empty() ? "list its file at the top of the project, as  anchor_data: [anchors.yaml]" : text::suggestion(name, known);
  }
  static std::string in_words(std::string word) {
    std::replace(word.begin(), word.end(), '_', ' ');
    return word;
  }

  const Project& project_;
  text::Diagnostics& diagnostics_;
  std::set<std::tuple<std::uint32_t, std::uint32_t, MessageId>> told_;
};

class Files {
 public:
  Files(Project& project, text::SourceSet& sources, const rules::RuleSet& rules, text::Diagnostics& diagnostics)
      : project_(project), sources_(sources), rules_(rules), diagnostics_(diagnostics) {}

  void run() {
    const std::size_t earlier = errors();
    for (const auto& [path, f] : project_.facts)
      if (path.compare(0, kFiles.size(), kFiles) == 0 && !f.unknown) read(f);
    const bool good = errors() == earlier;
    project_.broken = project_.broken || !good;
    if (!good) return;
    LookUp look_up(project_, diagnostics_);
    for (auto& opening : project_.openings) look_up.all_of(opening);
  }

 private:
  [[nodiscard]] std::size_t errors() const { return diagnostics_.count(text::Severity::error); }

  void read(const Fact& named) {
    const fs::path path = (fs::path(project_.file).parent_path() / named.word).lexically_normal();
    const std::string name = path.generic_string();
    std::error_code error;
    std::ifstream in;
    if (fs::is_directory(path, error)) error = std::make_error_code(std::errc::is_a_directory);
    else if (!fs::exists(path, error)) error = std::make_error_code(std::errc::no_such_file_or_directory);
    else if (in.open(path, std::ios::binary); !in) error = std::make_error_code(std::errc::permission_denied);
    std::ostringstream content;
    if (!error) content << in.rdbuf();
    if (error) {
      diagnostics_.add(MessageId::A001, named.place, {name, error.message()});
      return;
    }
    const auto data = read_anchor_data(*sources_.add(name, content.str()), rules_, diagnostics_);
    if (!data) return;
    for (const auto& other : project_.anchors)
      if (other->name == data->name) {
        auto& d = diagnostics_.add(MessageId::A012, named.place, {data->name});
        d.other = other->place;
        d.other_note = "the other one";
        return;
      }
    project_.anchors.push_back(data);
  }

  Project& project_;
  text::SourceSet& sources_;
  const rules::RuleSet& rules_;
  text::Diagnostics& diagnostics_;
};

}  // namespace

void read_anchor_files(Project& project, text::SourceSet& sources, const rules::RuleSet& rules, text::Diagnostics& diagnostics) {
  Files(project, sources, rules, diagnostics).run();
}

void look_up_anchor_data(const Project& project, Opening& opening, text::Diagnostics& diagnostics) {
  LookUp(project, diagnostics).all_of(opening);
}

}  // namespace jambcheck::opening
