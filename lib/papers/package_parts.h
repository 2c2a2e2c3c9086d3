#pragma once
// Inside of the package: what all its sections need, and the sections that stand in files of their own.
#include <memory>
#include <string>
#include <vector>

#include "papers/fastening.h"
#include "papers/package.h"
#include "papers/working.h"

namespace jambcheck::papers {

/// What a package is made of, and the document it goes into; copies share what was drawn.
class PackagePart {
 public:
  PackagePart(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options, document::Document& out)
      : project_(project), results_(results), types_(types), set_(set), checker_(checker), options_(options), d_(out) {}

  /// The same, going into another document.
  [[nodiscard]] PackagePart with(document::Document& out) const { return {*this, out}; }

 protected:
  static std::string leaf_anchor(const Type& type) { return "type-" + type.letter; }
  /// "lag 3/8 x 4, lag 1/2 x 5": every fastener of an opening, each once.
  static std::string fastening_words(const verdict::OpeningResult& result);
  void section(const std::string& title, const std::string& anchor);
  static document::Cell page_cell(const std::string& anchor);
  /// Marks, or "all" where there are several and none is missing.
  [[nodiscard]] std::string marks_text(const std::vector<std::string>& marks) const;
  static std::string size_of(const opening::Opening& o);
  /// "18.2 psf / 20.1 psf" of the member that decides.
  [[nodiscard]] std::string pressures(const Type& type) const;
  /// The fastening of the member that decides; draw_all() comes first and works them out for all sections.
  [[nodiscard]] const Fastenings& drawn(const Type& type) const { return drawn_->at(static_cast<std::size_t>(&type - types_.data())); }
  void draw_all();

  const opening::Project& project_;
  const std::vector<verdict::OpeningResult>& results_;
  const std::vector<Type>& types_;
  const rules::RuleSet& set_;
  verdict::Checker& checker_;
  const PackageOptions& options_;
  document::Document& d_;

 private:
  PackagePart(const PackagePart& other, document::Document& out)
      : project_(other.project_), results_(other.results_), types_(other.types_), set_(other.set_), checker_(other.checker_), options_(other.options_), d_(out), drawn_(other.drawn_) {}
  std::shared_ptr<std::vector<Fastenings>> drawn_ = std::make_shared<std::vector<Fastenings>>();
};

// Each section, after what the document holds already.
void add_basis(const PackagePart& part);
void add_leaf(const PackagePart& part, const Type& type, Workings workings);
void add_inspection(const PackagePart& part);
void add_record(const PackagePart& part);

}  // namespace jambcheck::papers

