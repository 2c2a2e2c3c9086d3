#pragma once
// Inside of the package: what all its sections need, and the sections that stand in files of their own.
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "papers/fastening.h"
#include "papers/package.h"

namespace jambcheck::papers {

/// What a package is made of, and the document it goes into; copies share what was worked out.
class PackagePart {
 public:
  PackagePart(const opening::Project& project, const std::vector<verdict::OpeningResult>& results, const std::vector<Type>& types, const rules::RuleSet& set, verdict::Checker& checker, const PackageOptions& options, document::Document& out)
      : project_(project), results_(results), types_(types), set_(set), checker_(checker), options_(options), d_(out) {}

 protected:
  void section(const std::string& title, const std::string& anchor);
  static document::Cell page_cell(const std::string& anchor);
  /// Marks, or "all" where there are several and none is missing.
  [[nodiscard]] std::string marks_text(const std::vector<std::string>& marks) const;
  static std::string size_of(const opening::Opening& o);
  /// "18.2 psf / 20.1 psf" of the member that decides.
  [[nodiscard]] std::string pressures(const Type& type) const;
  /// The fastening of the member that decides, worked out once for all sections.
  const Fastenings& drawn(const Type& type);

  const opening::Project& project_;
  const std::vector<verdict::OpeningResult>& results_;
  const std::vector<Type>& types_;
  const rules::RuleSet& set_;
  verdict::Checker& checker_;
  const PackageOptions& options_;
  document::Document& d_;

 private:
  using Drawn = std::map<const Type*, Fastenings>;
  std::shared_ptr<Drawn> drawn_ = std::make_shared<Drawn>();
};

// Each section, after what the document holds already.
void add_basis(const PackagePart& part);
void add_inspection(const PackagePart& part);
void add_record(const PackagePart& part);

}  // namespace jambcheck::papers

