#pragma once
// What stands in the cells of a schedule, whichever form it has.
#include <string>
#include <utility>
#include <vector>

#include "papers/fastening.h"
#include "papers/types.h"

namespace jambcheck::papers {

/// "0.69"; "--" where the state has none.
std::string ratio_of(const verdict::OpeningResult& result);
/// Canonical; NaN when it is not there, unknown, or no number.
double number(const opening::Facts& facts, std::string_view path);
double number(const opening::Opening& opening, std::string_view path, opening::Side side);
/// The jamb in words; both when they differ.
std::string base_of(const opening::Opening& opening);
/// The fasteners of guides ('G') or brackets ('B') as written.
std::string fastener_of(const verdict::OpeningResult& result, char part);
/// Fields that are asked for.
std::string missing_in(const verdict::OpeningResult& result);
/// Forty marks, and how many more.
std::string join_marks(const std::vector<std::string>& marks);

/// The openings in the order of the file, with their types.
std::vector<std::pair<const Type*, const Member*>> in_file_order(const opening::Project& project, const std::vector<Type>& types);

}  // namespace jambcheck::papers
