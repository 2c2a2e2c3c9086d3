#include "document/pdf_join.h"

#include <algorithm>
#include <map>
#include <memory>
#include <unordered_set>

#include <fmt/format.h>

#define POINTERHOLDER_TRANSITION 4
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFEFStreamObjectHelper.hh>
#include <qpdf/QPDFEmbeddedFileDocumentHelper.hh>
#include <qpdf/QPDFFileSpecObjectHelper.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "document/writers.h"

namespace jambcheck::document {
namespace {

using Object = QPDFObjectHandle;

Object number(double x) { return Object::newReal(x, 1); }

std::unique_ptr<QPDF> opened(const std::string& pdf) {
  auto out = std::make_unique<QPDF>();
  out->setSuppressWarnings(true);  // cairo lists an object that it does not write; nothing is lost by it
  out->processMemoryFile("paper", pdf.data(), pdf.size());
  return out;
}

class Joiner {
 public:
  Joiner(const Document& document, const std::vector<Painted>& parts) : document_(document), parts_(parts), height_(sheet_size(document.paper).height) {
    for (const auto& part : parts) files_.push_back(opened(part.pdf));
    gather_pages();
  }

  std::string run() {
    name_anchors();
    add_links();
    add_bookmarks();
    attach(document_.inside);
    QPDFWriter writer(whole());
    writer.setOutputMemory();
    writer.setDeterministicID(true);
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
  }

 private:
  QPDF& whole() { return *files_.front(); }

  void gather_pages() {
    QPDFPageDocumentHelper all(whole());
    for (std::size_t i = 1; i < files_.size(); ++i)
      for (const auto& page : QPDFPageDocumentHelper(*files_[i]).getAllPages()) all.addPage(page, false);
    for (auto& page : all.getAllPages()) pages_.push_back(page.getObjectHandle());
    int before = 0;
    for (const auto& part : parts_) {
      before_.push_back(before);
      before += part.found.pages;
    }
  }
  Object& page_of(std::size_t part, const Place& at) { return pages_.at(static_cast<std::size_t>(before_[part] + at.page)); }
  Object view_of(std::size_t part, const Place& at) {
    return Object::newArray({page_of(part, at), Object::newName("/XYZ"), number(at.x), number(height_ - at.y), Object::newInteger(0)});
  }

  /// A tree of names with one level of leaves. The first of a name counts.
  void name_anchors() {
    constexpr std::size_t kLeaf = 64;
    std::map<std::string_view, Object> views;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      for (const auto& a : parts_[i].found.anchors)
        if (views.find(a.name) == views.end()) views.emplace(a.name, view_of(i, a.at));
    Object leaves = Object::newArray();
    for (auto it = views.begin(); it != views.end();) {
      Object names = Object::newArray();
      const std::string first(it->first);
      std::string last;
      for (std::size_t k = 0; k < kLeaf && it != views.end(); ++k, ++it) {
        last = it->first;
        named_.insert(it->first);
        names.appendItem(Object::newString(last));
        names.appendItem(it->second);
      }
      const auto limits = Object::newArray({Object::newString(first), Object::newString(last)});
      leaves.appendItem(whole().makeIndirectObject(Object::newDictionary({{"/Names", names}, {"/Limits", limits}})));
    }
    if (views.empty()) return;
    whole().getRoot().replaceKey("/Names", Object::newDictionary({{"/Dests", Object::newDictionary({{"/Kids", leaves}})}}));
  }

  void add_links() {
    std::vector<std::vector<Object>> on_page(pages_.size());
    for (std::size_t i = 0; i < parts_.size(); ++i)
      for (const auto& link : parts_[i].found.links) {
        if (named_.count(link.to) == 0) continue;
        const auto rectangle = Object::newArray({number(link.at.x), number(height_ - link.at.y - link.height), number(link.at.x + link.width), number(height_ - link.at.y)});
        on_page.at(static_cast<std::size_t>(before_[i] + link.at.page))
            .push_back(Object::newDictionary({{"/Type", Object::newName("/Annot")},
                                              {"/Subtype", Object::newName("/Link")},
                                              {"/Rect", rectangle},
                                              {"/Border", Object::newArray({Object::newInteger(0), Object::newInteger(0), Object::newInteger(0)})},
                                              {"/Dest", Object::newString(std::string(link.to))}}));
      }
    for (std::size_t p = 0; p < pages_.size(); ++p)
      if (!on_page[p].empty()) pages_[p].replaceKey("/Annots", Object::newArray(on_page[p]));
  }

  /// Bookmarks under the last one of a higher level; all of them open.
  void add_bookmarks() {
    struct Open {
      int level;
      Object node;
    };
    Object root = whole().makeIndirectObject(Object::newDictionary({{"/Type", Object::newName("/Outlines")}, {"/Count", Object::newInteger(0)}}));
    std::vector<Open> path{{0, root}};
    bool any = false;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      for (const auto& b : parts_[i].found.bookmarks) {
        while (path.back().level >= b.level) path.pop_back();
        Object above = path.back().node;
        Object node = whole().makeIndirectObject(Object::newDictionary(
            {{"/Title", Object::newUnicodeString(std::string(b.text))}, {"/Parent", above}, {"/Dest", view_of(i, b.at)}, {"/Count", Object::newInteger(0)}}));
        if (Object last = above.getKey("/Last"); last.isDictionary()) {
          last.replaceKey("/Next", node);
          node.replaceKey("/Prev", last);
        } else {
          above.replaceKey("/First", node);
        }
        above.replaceKey("/Last", node);
        for (auto& one : path) one.node.replaceKey("/Count", Object::newInteger(one.node.getKey("/Count").getIntValue() + 1));
        path.push_back({b.level, node});
        any = true;
      }
    if (!any) return;
    whole().getRoot().replaceKey("/Outlines", root);
    whole().getRoot().replaceKey("/PageMode", Object::newName("/UseOutlines"));
  }

  void attach(const std::vector<Inside>& files) {
    QPDFEmbeddedFileDocumentHelper attachments(whole());
    for (const auto& f : files) {
      auto stream = QPDFEFStreamObjectHelper::createEFStream(whole(), f.content);
      stream.setSubtype("text/plain");
      auto spec = QPDFFileSpecObjectHelper::createFileSpec(whole(), f.name, stream);
      attachments.replaceEmbeddedFile(f.name, spec);
    }
  }

  const Document& document_;
  const std::vector<Painted>& parts_;
  double height_;
  std::vector<std::unique_ptr<QPDF>> files_;
  std::vector<Object> pages_;
  std::vector<int> before_;  ///< pages before each part
  std::unordered_set<std::string_view> named_;
};

}  // namespace

std::string join(const Document& document, const std::vector<Painted>& parts) { return Joiner(document, parts).run(); }

std::vector<Inside> inside_of_pdf(const std::string& pdf) {
  std::vector<Inside> out;
  try {
    const auto document = opened(pdf);
    QPDFEmbeddedFileDocumentHelper attachments(*document);
    if (!attachments.hasEmbeddedFiles()) return out;
    for (const auto& [name, spec] : attachments.getEmbeddedFiles()) {
      auto stream = spec->getEmbeddedFileStream();
      const auto data = stream.getStreamData(qpdf_dl_all);
      out.push_back({name, {reinterpret_cast<const char*>(data->getBuffer()), data->getSize()}});
    }
  } catch (const std::exception&) {
    out.clear();  // no PDF, or a damaged one: nothing is inside
  }
  return out;
}

}  // namespace jambcheck::document
