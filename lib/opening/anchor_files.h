#pragma once
// The files of anchor data that a project names.
#include "opening/model.h"

namespace jambcheck::opening {

/// Reads the files listed under anchor_data:, named as seen from the folder of the project file, into project.anchors,
/// and looks up what each fastener names. A file with errors breaks the project; an opening that names data that are
/// not there, or another anchor's, is broken. Problems: those of read_anchor_data, and A001, A012 to A015.
void read_anchor_files(Project& project, text::SourceSet& sources, const rules::RuleSet& rules, text::Diagnostics& diagnostics);

/// The look-up alone, for an opening that stands in no project file.
void look_up_anchor_data(const Project& project, Opening& opening, text::Diagnostics& diagnostics);

}  // namespace jambcheck::opening
