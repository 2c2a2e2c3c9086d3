#pragma once
// The schedule of openings, and what to find out so that most of them are settled.
#include "document/document.h"
#include "papers/types.h"

namespace jambcheck::papers {

struct ScheduleOptions {
  document::Paper paper = document::Paper::letter;
  std::vector<std::string> not_read;  ///< marks with errors
};

document::Document schedule(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const ScheduleOptions& options);

/// A question, where it is asked, and how many openings it settles by itself.
struct Missing {
  const verdict::Question* question = nullptr;
  std::vector<std::string> marks;
  std::size_t openings = 0;  ///< with their quantities
  std::size_t alone = 0;     ///< of them, those for which it is the only question
};
/// The most useful answer first.
std::vector<Missing> missing_of(const std::vector<Type>& types);

/// "12 openings: 8 HOLDS, 2 SHORT ..."
std::string tally(const std::vector<Type>& types, std::size_t not_read);

/// The part whose check decides, in words: "left guide: lag screw pulled straight out of wood".
std::string decides_in_words(const verdict::OpeningResult& result);

/// Running head, footer and title that all papers share.
document::Document blank(const opening::Project& project, const std::string& title, document::Paper paper);

}  // namespace jambcheck::papers
