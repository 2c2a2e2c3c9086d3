#pragma once
// Inside of verdict: one link in all of its load cases, for one fastening or many at once (rows), down to the worst load
// case of each check.
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "exec/pairs.h"
#include "rules/judge.h"
#include "verdict/connection.h"
#include "verdict/worst.h"

namespace jambcheck::verdict {

/// What the load cases say to the sources of a plan, one value a case.
struct CaseColumns {
  struct Column {
    std::size_t source = 0;
    std::vector<double> values;
    std::vector<bool> says;  ///< where not, the case has what all share
    bool all = true;         ///< every case says something
  };
  std::vector<Column> columns;
  std::size_t cases = 0;
};
CaseColumns columns_of_cases(const rules::Plan& plan, const std::vector<LoadCase>& cases);

/// A source that differs from row to row.
struct RowColumn {
  std::size_t source = 0;
  std::vector<double> values;  ///< one a row
};

/// What runs a plan; kept from link to link by one thread.
class LinkRun {
 public:
  /// Both must outlive it.
  LinkRun(const rules::Plan& plan, exec::Memo* memo);
  /// The worst load case of each of `checks` for each row, row by row. `common` has one value a source. With `next` the
  /// runner-up of each is found too.
  const std::vector<Worst>& run(std::span<const rules::CheckPoint* const> checks, std::span<const double> common, std::span<const RowColumn> rows, std::size_t row_count,
                                const CaseColumns& cases, bool next);

 private:
  struct Block {
    std::size_t first_row = 0, rows = 0, first_case = 0, cases = 0;
  };
  void make_inputs(const Block& block);
  void find_gaps();
  void find_loud();
  void judge(const rules::CheckPoint& check, std::size_t k, const Block& block);
  void judge_row(const rules::CheckPoint& check, std::size_t row, const Block& block, Worst& worst);
  [[nodiscard]] double column(std::uint32_t source, std::size_t row, std::size_t at) const;

  const rules::Plan& plan_;
  exec::Pairs pairs_;
  std::span<const rules::CheckPoint* const> checks_;
  std::span<const double> common_;
  std::span<const RowColumn> row_columns_;
  const CaseColumns* cases_ = nullptr;
  bool next_ = false;
  std::vector<exec::PairInput> inputs_;
  std::vector<std::vector<double>> mixed_;  ///< of sources that differ in rows and load cases
  std::vector<std::uint32_t> loud_;         ///< sites that recorded something in this block
  std::vector<bool> is_loud_;
  std::vector<bool> missing_, open_;        ///< of each source: in this block
  std::vector<std::uint32_t> heard_;        ///< loud sites of a check
  std::vector<std::uint32_t> lacking_;      ///< sources of a check that have no value somewhere
  std::vector<std::uint8_t> records_;
  std::vector<Worst> worst_;
};

}  // namespace jambcheck::verdict
