// Section 7: the inputs, what changed against an older package, and the files behind the answers.
#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "papers/card.h"
#include "papers/leaf.h"
#include "papers/package_parts.h"
#include "papers/schedule.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::papers {
namespace {

using document::Cell;
using document::Heading;
using document::Paragraph;
using document::Style;
using document::Table;

constexpr std::size_t kLinesPrinted = 100;  // of the project file

class Record : private PackagePart {
 public:
  explicit Record(const PackagePart& part) : PackagePart(part) {}
  void run() {
    section("7  Record", "record");
    d_.add(Paragraph{fmt::format("jambcheck {}. Fingerprint of the inputs: {}. The input and a record of all answers travel inside of this package: jambcheck replay runs them again.", JAMBCHECK_VERSION, fingerprint(project_)), Style::plain});
    changes();
    given();
    understood();
    stamps();
  }

 private:
  void given() {
    d_.add(Heading{2, "Inputs as given", "given"});
    const auto lines = static_cast<std::size_t>(std::count(options_.input.begin(), options_.input.end(), '\n'));
    if (lines <= kLinesPrinted) d_.add(Paragraph{options_.input, Style::code});
    else d_.add(Paragraph{fmt::format("The project file has {} lines. It travels inside of this package as {}; every value of it stands below.", lines, kInputName), Style::plain});
  }
  /// Every fact, in the user's unit and in the one that is worked with; what was copied from another opening is told once.
  void understood() {
    d_.add(Heading{2, "Inputs as understood", "understood"});
    Table t;
    t.head = {"opening", "fields and values; where the two differ, as written = as worked with"};
    t.shares = {1, 7.5};
    t.compact = true;
    t.rows.push_back({strong_cell("project"), {facts_text(project_.facts, project_.choices)}});
    t.revised.push_back(options_.revision.at_input("project"));
    for (const auto& o : project_.openings) {
      t.rows.push_back({strong_cell(o.mark), {facts_text(o.facts, o.choices)}});
      t.revised.push_back(options_.revision.at_input(o.mark));
    }
    d_.add(t);
  }
  static std::string facts_text(const opening::Facts& facts, const std::vector<opening::Choice>& choices) {
    std::string out, like;
    for (const auto& [path, f] : facts) {
      if (f.origin == opening::Origin::copied) like = f.from;
      else out += (out.empty() ? "" : "; ") + path + " " + value_text(facts, path, f);
    }
    for (const auto& choice : choices) {
      std::vector<std::string> options;
      for (const auto& option : choice.options) options.push_back(option.text);
      out += (out.empty() ? "" : "; ") + choice.path + " one of " + text::join(options);
    }
    if (!like.empty()) out += (out.empty() ? "all like " : "; all else like ") + like;
    return out;
  }
  static std::string value_text(const opening::Facts& facts, const std::string& path, const opening::Fact& f) {
    if (!f.list.empty()) {
      std::string out;
      for (const double x : f.list) out += (out.empty() ? "" : ", ") + units::show(x, f.shown, 8);
      return out;
    }
    const std::string as_written = said(facts, path);
    if (f.kind != opening::Fact::Kind::number || f.unknown) return as_written;
    const std::string exact = units::show(f.value, f.shown, 8);
    return exact == as_written ? as_written : as_written + " = " + exact;
  }
  void changes() {
    d_.add(Heading{2, "Changes", "changes"});
    const Revision& rev = options_.revision;
    if (rev.letter.empty()) return d_.add(Paragraph{"Not applicable, because this package was not set against an older one (--against).", Style::plain});
    if (rev.changes.empty()) return d_.add(Paragraph{"Not applicable, because nothing differs from " + rev.against + ".", Style::plain});
    d_.add(Paragraph{fmt::format("Against {}. What changed has a bar and {} in the margin.", rev.against, rev.letter), Style::plain});
    Table t;
    t.head = {"where", "what", "before", "now", "page"};
    t.shares = {1.5, 1.6, 2, 2, 0.6};
    t.compact = true;
    for (const auto& c : rev.changes) t.rows.push_back({strong_cell(c.where), {c.what}, {c.before}, {c.after}, c.anchor.empty() ? Cell{"--"} : page_cell(c.anchor)});
    d_.add(t);
  }
  /// Files that were read for these checks; of all others the record that travels inside tells the hash.
  void stamps() {
    d_.add(Heading{2, "Rules and tables", "stamps"});
    std::set<std::string> used;
    for (const auto& r : results_)
      for (const auto& c : r.connections)
        for (const auto& k : c.checks)
          for (const rules::Rule* rule : k.plan->check_of(*k.rule)->rules) {
            if (rule->place.file) used.insert(rule->place.file->name);
            for (const auto& table : rule->tables)
              if (table.table && table.table->place.file) used.insert(table.table->place.file->name);
          }
    d_.add(Paragraph{fmt::format("Files behind these answers, each with a hash of its content: another hash, another content. All {} files stand in {} inside of this package. jambcheck selftest runs the published values that the rules reproduce.", set_.stamps().size(), kRecordName), Style::small});
    Table t;
    t.head = {"file", "hash", "file", "hash"};
    t.shares = {2.6, 1.3, 2.6, 1.3};
    t.compact = true;
    for (const auto& s : set_.stamps()) {
      if (used.count(s.path) == 0) continue;
      if (t.rows.empty() || t.rows.back().size() == 4) t.rows.emplace_back();
      t.rows.back().push_back({s.path});
      t.rows.back().push_back({fmt::format("{:016x}", s.hash)});
    }
    if (!t.rows.empty()) d_.add(t);
  }
};

}  // namespace

void add_record(const PackagePart& part) { Record(part).run(); }

}  // namespace jambcheck::papers
