#pragma once
// Inside of the PDF writer: blocks flowed over pages of one surface. Places are points of the sheet, y downward from its top.
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "document/document.h"
#include "document/pdf_pen.h"

namespace jambcheck::document {

struct SheetSize {
  double width, height;
};
SheetSize sheet_size(Paper paper);

/// Where something stands: `page` counts from 0 within one run.
struct Place {
  int page = 0;
  double x = 0, y = 0;
};

/// What a run over blocks found out. Names point into the document.
struct Flowed {
  struct Anchor {
    std::string_view name;
    Place at;
  };
  struct Link {
    std::string_view to;  ///< an anchor, of this run or another
    Place at;
    double width = 0, height = 0;
  };
  struct Bookmark {
    int level = 1;
    std::string_view text;
    Place at;
  };
  int pages = 0;
  std::vector<Anchor> anchors;  ///< each name once
  std::vector<Link> links;
  std::vector<Bookmark> bookmarks;
};

/// Page numbers of the whole paper, known once all of it was measured.
struct Numbering {
  int pages = 0;
  std::unordered_map<std::string_view, int> page_of;  ///< of each anchor, from 1
};

/// What all runs over one paper share.
struct Flow {
  const Document& document;
  double scale = 1;
  std::vector<const Heading*> contents;  ///< headings that the list of contents shows
  const Numbering* numbers = nullptr;    ///< null while the paper is measured
};

/// Some blocks of a paper, which start on a page of their own.
struct Part {
  std::span<const Block> blocks;
  int pages_before = 0;
};

/// How many pages the blocks take, and where things stand on them.
Flowed measure(const Flow& flow, const Part& part, TextSizes& sizes);
/// The same, with the pages as a PDF without links. Throws std::runtime_error.
Flowed paint(const Flow& flow, const Part& part, TextSizes& sizes, std::string& pdf);

}  // namespace jambcheck::document
