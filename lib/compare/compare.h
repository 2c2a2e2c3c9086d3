#pragma once
// Two states of a project side by side: what was changed, and what came of it.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "verdict/check.h"

namespace jambcheck::compare {

/// A value as text, and as a fact where it is known as one: 24 in and 2 ft are the same.
struct Value {
  std::string text;
  std::optional<opening::Fact> fact;
};
using Values = std::map<std::string, Value>;

struct OpeningSide {
  std::string state;  ///< word of the ladder, or "not read"
  double ratio = 0;
  std::string governs, why;
  std::map<std::string, std::string> questions;  ///< key -> question
  Values values;                                 ///< empty when they are not known
};

/// One of the two: from a project that was checked, or from what check --json wrote.
struct Side {
  std::vector<std::string> marks;  ///< in order
  std::map<std::string, OpeningSide> openings;
  Values shared;
  bool has_values = false;  ///< those of openings are known
};

Side side_of(const opening::Project& project, const std::vector<verdict::OpeningResult>& results);
/// Empty when the text is no result; `problem` says why.
std::optional<Side> side_of_json(const std::string& text, std::string& problem);

struct InputChange {
  std::string mark;  ///< empty: of the project
  std::string field, before, after;
};
struct ResultChange {
  std::string mark;
  std::string state_before, state_after;
  double ratio_before = 0, ratio_after = 0;
  std::string governs_before, governs_after, why;
  bool worse = false;
};
struct QuestionChange {
  std::string mark, ask;
};

struct Comparison {
  std::vector<InputChange> inputs;
  bool inputs_known = true;  ///< false: one side is a result, which does not tell the openings' inputs
  std::vector<ResultChange> results;
  std::vector<QuestionChange> questions_new, questions_gone;
  std::vector<ResultChange> added, removed;
  std::size_t same = 0;  ///< openings in both of which nothing moved
  bool worse = false;    ///< a state or ratio got worse, or an opening came that does not hold
};

/// `threshold`: ratios that moved by no more are the same.
Comparison compare(const Side& before, const Side& after, double threshold);

std::string to_text(const Comparison& comparison, const std::string& before, const std::string& after);
std::string to_json(const Comparison& comparison, const std::string& before, const std::string& after, double threshold);

}  // namespace jambcheck::compare
