#pragma once
// The take-off as a paper and as rows.
#include "document/document.h"
#include "papers/alternates.h"
#include "papers/grid.h"
#include "papers/takeoff.h"

namespace jambcheck::papers {

/// With `alternates` empty their sheet is left out.
document::Document takeoff_paper(const opening::Project& project, const Takeoff& takeoff, const std::vector<Alternate>& alternates, document::Paper paper);

/// One row an item; one an opening and item; one a phase, floor and item; one an alternate; what was not counted.
Grid item_grid(const Takeoff& takeoff);
Grid bag_grid(const Takeoff& takeoff);
Grid phase_grid(const Takeoff& takeoff);
Grid alternate_grid(const std::vector<Alternate>& alternates);
Grid uncounted_grid(const Takeoff& takeoff);

}  // namespace jambcheck::papers
