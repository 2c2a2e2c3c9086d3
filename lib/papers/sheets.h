#pragma once
// Rows as a workbook: every cell is text or a plain number, never a formula.
#include <string>
#include <vector>

#include "papers/grid.h"

namespace jambcheck::papers {

/// A sheet for each grid: first row and first column stay in sight, the sheet prints across, as few pages wide as can be
/// read, with its name and page number. The same bytes for the same rows. Throws std::runtime_error when it can't be made.
std::string workbook(const std::vector<Grid>& grids, bool a4 = false);

}  // namespace jambcheck::papers
