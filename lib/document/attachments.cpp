#include "document/attachments.h"

#include <stdexcept>

#define POINTERHOLDER_TRANSITION 4
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFEFStreamObjectHelper.hh>
#include <qpdf/QPDFEmbeddedFileDocumentHelper.hh>
#include <qpdf/QPDFFileSpecObjectHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "document/writers.h"

namespace jambcheck::document {

std::string attach(const std::string& pdf, const std::vector<Inside>& files) {
  QPDF document;
  document.setSuppressWarnings(true);  // cairo lists an object that it does not write; nothing is lost by it
  document.processMemoryFile("paper", pdf.data(), pdf.size());
  QPDFEmbeddedFileDocumentHelper attachments(document);
  for (const auto& f : files) {
    auto stream = QPDFEFStreamObjectHelper::createEFStream(document, f.content);
    stream.setSubtype("text/plain");
    auto spec = QPDFFileSpecObjectHelper::createFileSpec(document, f.name, stream);
    attachments.replaceEmbeddedFile(f.name, spec);
  }
  QPDFWriter writer(document);
  writer.setOutputMemory();
  writer.setDeterministicID(true);
  writer.write();
  const auto buffer = writer.getBufferSharedPointer();
  return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

std::vector<Inside> inside_of_pdf(const std::string& pdf) {
  std::vector<Inside> out;
  try {
    QPDF document;
    document.setSuppressWarnings(true);
    document.processMemoryFile("paper", pdf.data(), pdf.size());
    QPDFEmbeddedFileDocumentHelper attachments(document);
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
