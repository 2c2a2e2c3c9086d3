#pragma once
// Rows as a workbook: every cell is text or a plain number, never a formula.
#include <string>
#include <utility>
#include <vector>

namespace jambcheck::papers {

using Sheet = std::pair<std::string, std::vector<std::vector<std::string>>>;  ///< name, rows; the first row is a head

/// The same bytes for the same rows. Throws std::runtime_error when it can't be made.
std::string workbook(const std::vector<Sheet>& sheets);

}  // namespace jambcheck::papers
