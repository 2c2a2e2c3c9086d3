#pragma once
// Drawings of a package: the whole opening with its holes and pressures, and the plate of the bracket, each at a scale of
// the ruler with its scale bar.
#include "document/drawing.h"
#include "papers/fastening.h"

namespace jambcheck::papers {

/// Opening, guides and brackets with sizes; `pressures` as text. Without shapes when the size is not known.
document::Drawing opening_drawing(const Fastenings& all, const std::string& pressures);

/// Plate of the left bracket (the right one where there is no left) with its holes. Without shapes when they are not known.
document::Drawing bracket_drawing(const Fastenings& all);

/// The least step of a scale ruler that is no less than `fits`: inches on the wall for one on paper.
double ruler_scale(double fits);

}  // namespace jambcheck::papers
