#pragma once
// Openings that are fastened alike are one type: one calculation and one card for all of them.
#include <map>
#include <string>
#include <vector>

#include "text/diagnostic.h"
#include "verdict/check.h"

namespace jambcheck::papers {

struct Member {
  const opening::Opening* opening = nullptr;
  const verdict::OpeningResult* result = nullptr;
  std::size_t quantity = 1;
};

struct Type {
  std::string letter;       ///< A, B ... Z, AA
  std::string fingerprint;  ///< of what the file says about jamb, board, guide, bracket and mount
  std::vector<Member> members;  ///< in the order of the file
  std::size_t decides = 0;      ///< the member with the worst answer
  [[nodiscard]] const Member& worst() const { return members[decides]; }
};

/// Fingerprint to letter, kept between runs so that a type keeps its letter and no letter is given twice.
using Letters = std::map<std::string, std::string>;
/// CSV with the columns letter, type. Message L023.
Letters read_letters(const text::SourceFile& file, text::Diagnostics& diagnostics);
std::string write_letters(const Letters& letters);

/// In the order of first appearance; `letters` gets what is new.
std::vector<Type> types_of(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, Letters& letters);

/// 1 is A, 26 is Z, 27 is AA.
std::string letter_of(std::size_t n);

std::size_t quantity_of(const opening::Opening& opening);

}  // namespace jambcheck::papers
