#pragma once
// Which fields of a project file answer a question about a key of the rules.
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::opening {

/// Whose question it is.
struct Asker {
  std::string_view part;   ///< guide, bracket, or buck for the board's own fastening
  bool on_board = false;   ///< guide or bracket held by a board, not by the jamb
};

/// The fields to write the answer into, the best one first; none for what no field says. The fields of answers.def where
/// they name the key, else the fields that fill it.
std::vector<std::string> fields_that_answer(std::string_view key, Asker asker);

}  // namespace jambcheck::opening
