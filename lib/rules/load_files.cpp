// Every file of the folders, by its schema: rules and tables are read at once, the rest waits until names are known.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "rules/loading.h"
#include "text/suggest.h"

namespace jambcheck::rules {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

namespace {

namespace fs = std::filesystem;

std::uint64_t fnv(std::string_view text) {
  std::uint64_t h = 1469598103934665603ULL;
  for (const unsigned char c : text) h = (h ^ c) * 1099511628211ULL;
  return h;
}

/// "wood/lag_screw/withdrawal.yaml" -> "wood.lag_screw.withdrawal"
std::string id_of_path(const fs::path& relative) {
  fs::path bare = relative;
  bare.replace_extension();
  std::string id = bare.generic_string();
  std::replace(id.begin(), id.end(), '/', '.');
  return id;
}

class FileReader {
 public:
  explicit FileReader(Loading& in) : in_(in) {}

  void read(const Folders& folders) {
    for (const auto& folder : folders.tables) read_folder(folder);
    for (const auto& folder : folders.rules) read_folder(folder);
  }

 private:
  void read_folder(const Folder& folder) {
    std::error_code error;
    std::vector<fs::path> files;
    for (auto it = fs::recursive_directory_iterator(folder.path, error); !error && it != fs::recursive_directory_iterator(); it.increment(error))
      if (it->is_regular_file() && it->path().extension() == ".yaml") files.push_back(it->path());
    if (error) {
      in_.diagnostics.add(MessageId::L005, {in_.sources.add(folder.label, ""), 0, 0, 0}, {folder.label, fs::exists(folder.path) ? error.message() : "no such folder"});
      return;
    }
    std::sort(files.begin(), files.end());
    for (const auto& file : files) {
      const fs::path relative = file.lexically_relative(folder.path);
      read_file(file, (fs::path(folder.label) / relative).generic_string(), id_of_path(relative));
    }
  }
  void read_file(const fs::path& path, const std::string& name, const std::string& id) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream content;
    content << in.rdbuf();
    const auto* source = in_.sources.add(name, content.str());
    in_.parts.stamps.push_back({source->name, fnv(source->text)});
    for (auto& doc : yaml::parse(*source, in_.diagnostics)) read_document(doc, id, *source);
  }
  void read_document(Node& doc, const std::string& id, const text::SourceFile& source) {
    if (!doc.is_map()) {
      in_.diagnostics.add(MessageId::Y011, {&source, 1, 1, 0}, {std::string(yaml::word(doc.kind))});
      return;
    }
    const Node* schema = yaml::need(doc, "schema", Kind::scalar, "the file", in_.diagnostics);
    if (!schema) return;
    if (schema->text == "rule/1") add_rule(doc, id);
    else if (schema->text == "table/1") add_table(doc, id);
    else if (schema->text == "keys/1") in_.key_files.push_back(std::move(doc));
    else if (schema->text == "documents/1") read_documents(doc);
    else if (schema->text == "required/1") in_.required_files.push_back(std::move(doc));
    else if (schema->text == "combinations/1") in_.combination_files.push_back(std::move(doc));
    else if (schema->text == "cases/1") in_.case_files.push_back(std::move(doc));
    else in_.diagnostics.add(MessageId::Y010, schema->place, {schema->text, text::suggestion(schema->text, {"rule/1", "table/1", "keys/1", "documents/1", "required/1", "combinations/1", "cases/1"})});
  }
  void check_id(const std::string& id, const std::string& from_path, const text::Place& place) {
    if (id != from_path) in_.diagnostics.add(MessageId::G006, place, {id, from_path});
  }
  void add_rule(const Node& doc, const std::string& id) {
    RuleDraft draft = read_rule(doc, in_.diagnostics);
    if (const Node* n = doc.find("id")) check_id(draft.rule->id, id, n->place);
    const auto same = std::find_if(in_.drafts.begin(), in_.drafts.end(), [&](const RuleDraft& d) { return d.rule->id == draft.rule->id; });
    if (same == in_.drafts.end()) in_.drafts.push_back(std::move(draft));
    else *same = std::move(draft);  // a later folder replaces
  }
  void add_table(Node& doc, const std::string& id) {
    std::vector<Node> documents;
    documents.push_back(std::move(doc));
    auto tables = table::read_tables(documents, in_.parts.symbols, in_.diagnostics);
    for (auto& table : tables) {
      if (const Node* n = documents.front().find("id")) check_id(table->id, id, n->place);
      in_.parts.tables[table->id] = std::move(table);
    }
  }
  void read_documents(const Node& doc) {
    yaml::check_keys(doc, {"schema", "documents"}, "the file", in_.diagnostics);
    const Node* list = yaml::need(doc, "documents", Kind::map, "the file", in_.diagnostics);
    if (!list) return;
    for (const auto& entry : list->entries) {
      const Node& n = entry.value;
      yaml::check_keys(n, {"title", "body", "edition", "family", "seen", "note"}, "a document", in_.diagnostics);
      Document d;
      d.id = entry.key.text;
      const auto field = [&](std::string_view key) {
        const Node* v = yaml::may(n, key, Kind::scalar, "a document", in_.diagnostics);
        return v ? v->text : std::string();
      };
      d.title = field("title");
      d.body = field("body");
      d.edition = field("edition");
      d.family = field("family");
      if (const Node* seen = n.find("seen"))
        if (!table::parse_evidence(seen->text, d.seen)) in_.diagnostics.add(MessageId::C002, seen->place, {seen->text});
      in_.parts.documents[d.id] = d;
    }
  }

  Loading& in_;
};

}  // namespace

void read_files(Loading& in, const Folders& folders) { FileReader(in).read(folders); }

}  // namespace jambcheck::rules
