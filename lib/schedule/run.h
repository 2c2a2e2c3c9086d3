#pragma once
// A whole schedule, read, checked and handed on in blocks: what is kept does not grow with its length.
#include <functional>
#include <istream>
#include <set>
#include <string>
#include <vector>

#include "schedule/row.h"

namespace jambcheck::schedule {

struct Settings {
  int jobs = 0;        ///< threads; 0: as many as the machine has
  bool check = true;   ///< false: rows are read only
  std::vector<std::string> only;  ///< marks; empty: all
};

struct Counts {
  std::size_t rows = 0;  ///< that stand for openings
  std::size_t not_read = 0;
  std::size_t of_state[5] = {0, 0, 0, 0, 0};  ///< by rules::State
  std::size_t last_line = 0;                  ///< of the file, where the last row handed on begins
  bool stopped = false;
  std::set<std::string> missing;              ///< marks of `only` that no row has
};

/// What a run hands on, in the order of the file and on the thread that called.
class Receiver {
 public:
  virtual ~Receiver() = default;
  virtual void head(const Columns& columns) = 0;
  /// A row of units, which is passed through.
  virtual void units_row(const csv::Row& row, const Columns& columns) = 0;
  virtual void row(const Row& row, const Columns& columns) = 0;
  /// After each block; false stops the run.
  virtual bool go_on(const Counts& counts) = 0;
};

/// Reads and checks `in`, a file called `name`, against `base`. The head's problems go to `diagnostics`, and empty is
/// returned when it can't be used; those of a row stand in the row.
std::optional<Counts> run(std::istream& in, const std::string& name, const Mapping& mapping, const opening::Project& base, const rules::RuleSet& set,
                          const Settings& settings, Receiver& receiver, text::SourceSet& sources, text::Diagnostics& diagnostics);

}  // namespace jambcheck::schedule
