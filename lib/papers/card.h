#pragma once
// The card for the one who sets the fasteners: one side of one sheet, or a phone scrolled.
#include "document/document.h"
#include "papers/card_words.h"
#include "papers/fastening.h"
#include "papers/jamb_drawing.h"
#include "verdict/check.h"

namespace jambcheck::papers {

struct CardOptions {
  Sides sides = Sides::both;
  document::Paper paper = document::Paper::letter;
  double no_drill = verdict::kNotKnown;  ///< least distance of guide holes from the edge, in, found by `margins`
};

/// Instructions only when the opening HOLDS; else the questions, or that the office must be asked, in the same frame.
/// In two languages one side of the sheet each.
document::Document card(const opening::Project& project, const opening::Opening& opening, const verdict::OpeningResult& result, const Fastenings& all,
                        const CardWords& words, const CardOptions& options);

document::Sign sign_of(rules::State state);

/// Eight characters that stand for everything a project says: another input, another fingerprint.
std::string fingerprint(const opening::Project& project);
std::string fingerprint(const opening::Project& project, const opening::Opening& opening);

}  // namespace jambcheck::papers
