#include "opening/answers.h"

#include <algorithm>

#include "opening/field.h"

namespace jambcheck::opening {
namespace {

struct Line {
  std::string_view part, key, field;
};

const std::vector<Line>& lines() {
  static const std::vector<Line> list = {
#define JAMBCHECK_ANSWER(part, key, field) {#part, key, field},
#include "opening/answers.def"
#undef JAMBCHECK_ANSWER
  };
  return list;
}

bool names(const Line& line, std::string_view key, bool exact) {
  return exact ? line.key == key : line.key.back() == '.' && key.substr(0, line.key.size()) == line.key;
}

std::string filled_in(std::string_view field, std::string_view part) {
  std::string out(field);
  if (!out.empty() && out.front() == '%') out.replace(0, 1, part);
  return out;
}

std::vector<std::string> listed(std::string_view key, std::string_view whose, std::string_view part, bool exact) {
  std::vector<std::string> out;
  for (const Line& line : lines())
    if (line.part == whose && names(line, key, exact)) out.push_back(filled_in(line.field, part));
  return out;
}

std::string_view top_of(std::string_view path) { return path.substr(0, path.find('.')); }

/// Guide, bracket and board each have fields of their own for the same key; what holds is the board or the jamb.
bool is_of_another(std::string_view path, std::string_view key, Asker asker) {
  const std::string_view top = top_of(path);
  if (top_of(key) == "member") return top == (asker.on_board ? "jamb" : "buck");
  return (top == "guide" || top == "bracket" || top == "buck") && top != asker.part;
}

}  // namespace

std::vector<std::string> fields_that_answer(std::string_view key, Asker asker) {
  const auto whose = [&](bool exact) {
    std::vector<std::string> out;
    if (asker.on_board) out = listed(key, "board", asker.part, exact);
    if (out.empty()) out = listed(key, asker.part, asker.part, exact);
    if (out.empty()) out = listed(key, "any", asker.part, exact);
    return out;
  };
  std::vector<std::string> out = whose(true);
  if (!out.empty()) return out;
  for (const auto path : fields_of(key))
    if (!is_of_another(path, key, asker)) out.emplace_back(path);
  return out.empty() ? whose(false) : out;
}

}  // namespace jambcheck::opening
