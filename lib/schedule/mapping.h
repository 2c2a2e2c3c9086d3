#pragma once
// The mapping file (schedule-map/1): which column of somebody's own schedule stands for which field.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "opening/written.h"
#include "text/diagnostic.h"

namespace jambcheck::schedule {

struct MappedColumn {
  std::string head;  ///< as in the schedule
  std::string field;
  std::string unit;                          ///< for bare numbers; empty: the cells say it
  std::map<std::string, std::string> words;  ///< the schedule's word -> ours, looked up without regard to capitals
  text::Place place;
};

struct Mapping {
  std::string base;  ///< project file, as seen from the folder of the mapping file; empty: none
  std::vector<MappedColumn> columns;
  std::vector<std::string> leave;           ///< columns that are no fields, whatever they look like
  std::vector<opening::Written> constants;  ///< fields that are the same in every row
};

/// Reads a mapping file; problems are reported, and empty is returned when there are errors.
std::optional<Mapping> read_mapping(const text::SourceFile& file, text::Diagnostics& diagnostics);

/// Every name that a column may have: fields of openings, of the site and the building.
std::vector<std::string> column_names();

/// Whether a column may stand for this field: an opening's own, or of site and building.
bool may_be_column(std::string_view path);

/// Whether bare numbers of this field can be given this unit.
bool takes_unit(std::string_view path);

/// Small letters, blanks trimmed: how heads and words are compared.
std::string folded(std::string_view text);

}  // namespace jambcheck::schedule
