#include "papers/types.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "csv/csv.h"
#include "text/number.h"

namespace jambcheck::papers {
namespace {

/// What belongs to the fastening; doors and places may differ within a type.
bool of_fastening(const std::string& path) {
  for (const char* part : {"jamb.", "buck.", "guide.", "bracket.", "test.", "left.", "right."})
    if (path.rfind(part, 0) == 0) return true;
  return path == "gap" || path == "mount" || path == "face";
}

class Hash {
 public:
  void add(const std::string& text) {
    for (const char c : text) h_ = (h_ ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    h_ = (h_ ^ 0x1fULL) * 1099511628211ULL;
  }
  void add(const std::string& path, const opening::Fact& f) {
    add(path);
    add(f.unknown ? "unknown" : f.kind == opening::Fact::Kind::number ? text::shortest(f.value) : f.word);
    for (const double x : f.list) add(text::shortest(x));
  }
  [[nodiscard]] std::string text() const { return fmt::format("{:08x}", static_cast<std::uint32_t>(h_ ^ (h_ >> 32))); }

 private:
  std::uint64_t h_ = 1469598103934665603ULL;
};

std::string fingerprint_of(const opening::Opening& o) {
  Hash h;
  for (const auto& [path, f] : o.facts)
    if (of_fastening(path)) h.add(path, f);
  for (const auto& choice : o.choices)
    if (of_fastening(choice.path))
      for (const auto& option : choice.options)
        for (const auto& [path, f] : option.facts) h.add(path, f);
  return h.text();
}

std::string next_letter(const Letters& letters) {
  std::set<std::string> used;
  for (const auto& [type, letter] : letters) used.insert(letter);
  for (std::size_t n = 1;; ++n)
    if (used.count(letter_of(n)) == 0) return letter_of(n);
}

bool worse(const verdict::OpeningResult& a, const verdict::OpeningResult& b) { return a.state != b.state ? a.state > b.state : a.ratio > b.ratio; }

}  // namespace

std::string letter_of(std::size_t n) {
  std::string out;
  for (; n != 0; n = (n - 1) / 26) out.insert(out.begin(), static_cast<char>('A' + (n - 1) % 26));
  return out;
}

std::size_t quantity_of(const opening::Opening& opening) {
  const auto* f = opening::fact(opening.facts, "quantity");
  return f && !f->unknown && f->value >= 1 ? static_cast<std::size_t>(f->value + 0.5) : 1;
}

Letters read_letters(const text::SourceFile& file, text::Diagnostics& diagnostics) {
  Letters out;
  std::string problem;
  const auto rows = csv::parse(file.text, problem);
  const auto tell = [&](std::size_t line, const std::string& what) { diagnostics.add(text::MessageId::L023, {&file, static_cast<std::uint32_t>(line), 1, 0}, {what}); };
  if (!problem.empty()) tell(1, problem);
  std::set<std::string> used;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& c = rows[i].cells;
    if (i == 0 && c.size() == 2 && c[0] == "letter" && c[1] == "type") continue;
    if (i == 0) {
      tell(1, "the first line is not  letter,type");
      return out;
    }
    if (c.size() == 1 && text::trim(c[0]).empty()) continue;
    const bool good = c.size() == 2 && !c[0].empty() && c[1].size() == 8 && std::all_of(c[0].begin(), c[0].end(), [](char x) { return x >= 'A' && x <= 'Z'; });
    if (!good) tell(rows[i].line, "a line is a letter and the eight characters of a type, as  A,0123abcd");
    else if (!used.insert(c[0]).second || !out.insert({c[1], c[0]}).second) tell(rows[i].line, "the letter or the type stands here a second time");
  }
  return out;
}

std::string write_letters(const Letters& letters) {
  std::vector<std::pair<std::string, std::string>> rows;
  for (const auto& [type, letter] : letters) rows.emplace_back(letter, type);
  std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return std::pair(a.first.size(), a.first) < std::pair(b.first.size(), b.first); });
  std::string out = "letter,type\n";
  for (const auto& [letter, type] : rows) out += letter + "," + type + "\n";
  return out;
}

std::vector<Type> types_of(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, Letters& letters) {
  std::vector<Type> out;
  for (const auto& result : results) {
    const auto o = std::find_if(project.openings.begin(), project.openings.end(), [&](const auto& x) { return x.mark == result.mark; });
    if (o == project.openings.end()) continue;
    const std::string print = fingerprint_of(*o);
    auto it = std::find_if(out.begin(), out.end(), [&](const Type& t) { return t.fingerprint == print; });
    if (it == out.end()) {
      auto& letter = letters[print];
      if (letter.empty()) letter = next_letter(letters);
      it = out.insert(out.end(), {letter, print, {}, 0});
    }
    it->members.push_back({&*o, &result, quantity_of(*o)});
    if (worse(result, *it->worst().result)) it->decides = it->members.size() - 1;
  }
  return out;
}

}  // namespace jambcheck::papers
