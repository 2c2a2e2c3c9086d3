#pragma once
// An opening from values that stand one by one: the cells of a row, flags, answers. Read and judged as in a project file.
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "opening/model.h"

namespace jambcheck::opening {

/// One value with the field it is for.
struct Written {
  std::string path;  ///< "mark", "like", "guide.spacing", "left.jamb.species", "site.moisture"
  std::string text;  ///< as in a project file, without the quotes that YAML may need; a list in brackets
  text::Place place;
};

/// Whose field this is.
enum class Owner { nobody, opening, project };
Owner owner_of(std::string_view path);

struct OneOpening {
  Opening opening;
  std::shared_ptr<const Project> shared;  ///< facts of the project with those that were written here; null: the base's own
};

/// Reads `values`. `like` names an opening of `base`, whose facts are copied as in a file. Fields of the project override
/// those of `base`. `number` names the opening while it has no mark. The places must outlive the result.
OneOpening read_written(const std::vector<Written>& values, const std::string& number, const Project& base, const rules::RuleSet& rules,
                        text::Diagnostics& diagnostics);

/// `base` with those of `values` that are fields of the project in front, without openings; null when there are none.
std::shared_ptr<const Project> with_project_values(const std::vector<Written>& values, const std::string& owner, const Project& base, const rules::RuleSet& rules,
                                                   text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
