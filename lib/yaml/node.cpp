#include "yaml/node.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <sstream>

#include "text/suggest.h"
#include "yaml/readers.h"

namespace jambcheck::yaml {
namespace {

using text::MessageId;
using text::Place;

constexpr std::size_t kDeepest = 64;  // far beyond any file of ours; keeps a hostile one off the stack

/// Builds our tree from yaml-cpp's events. Events keep the place of every token, which its own tree does not.
class Builder final : public YAML::EventHandler {
 public:
  Builder(const text::SourceFile& file, text::Diagnostics& diagnostics) : file_(file), diagnostics_(diagnostics) {}

  Node take() { return std::move(root_); }
  [[nodiscard]] bool empty() const { return !seen_; }
  [[nodiscard]] const YAML::Mark& start() const { return start_; }

  void OnDocumentStart(const YAML::Mark& mark) override { start_ = mark; }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    Node node;
    node.place = at(mark, 0);
    put(std::move(node));
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    diagnostics_.add(MessageId::Y006, at(mark, 1));
    Node node;
    node.place = at(mark, 1);
    put(std::move(node), false);
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    Node node;
    node.kind = Kind::scalar;
    node.text = value;
    node.quoted = tag == "!";
    // The mark of a quoted scalar stands on the quote; a message wants the text inside.
    node.place = at(mark, static_cast<std::uint32_t>(value.size()));
    if (node.quoted) ++node.place.column;
    if (!node.quoted && (value.empty() || value == "~" || value == "null")) {
      node.kind = Kind::null;
      node.text.clear();
    }
    put(std::move(node));
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Kind::sequence);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(mark, tag, anchor, Kind::map);
  }
  void OnMapEnd() override { close(); }

 private:
  struct Level {
    Node node;
    Node key;
    bool has_key = false;
  };

  Place at(const YAML::Mark& mark, std::uint32_t length) const {
    return {&file_, static_cast<std::uint32_t>(mark.line + 1), static_cast<std::uint32_t>(mark.column + 1), length};
  }
  void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
    if (anchor != 0) diagnostics_.add(MessageId::Y006, at(mark, 1));
  }
  static std::string short_tag(const std::string& tag) {
    constexpr std::string_view kStandard = "tag:yaml.org,2002:";
    return tag.rfind(kStandard, 0) == 0 ? "!!" + tag.substr(kStandard.size()) : tag;
  }
  void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    if (!tag.empty() && tag != "!" && tag != "?") diagnostics_.add(MessageId::Y007, at(mark, 1), {short_tag(tag)});
  }
  void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, Kind kind) {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    if (stack_.size() >= kDeepest) throw YAML::ParserException(mark, "nested too deep");
    Level level;
    level.node.kind = kind;
    level.node.place = at(mark, 1);
    stack_.push_back(std::move(level));
  }
  void close() {
    Node done = std::move(stack_.back().node);
    stack_.pop_back();
    put(std::move(done));
  }
  /// `usable`: false for a value that was refused; its key is left out, so that one slip gives one message.
  void put(Node node, bool usable = true) {
    if (stack_.empty()) {
      root_ = std::move(node);
      seen_ = true;
      return;
    }
    Level& top = stack_.back();
    if (top.node.kind == Kind::sequence) {
      top.node.items.push_back(std::move(node));
    } else if (!top.has_key) {
      if (!node.is_scalar()) diagnostics_.add(MessageId::Y008, node.place);
      top.key = std::move(node);
      top.has_key = true;
    } else {
      if (usable && top.key.is_scalar()) add_entry(top, std::move(node));
      top.has_key = false;
    }
  }
  void add_entry(Level& top, Node value) {
    if (const Entry* first = top.node.find_entry(top.key.text)) {
      auto& d = diagnostics_.add(MessageId::Y002, top.key.place, {top.key.text});
      d.other = first->key.place;
      d.other_note = "first given here";
      return;
    }
    top.node.entries.push_back({std::move(top.key), std::move(value)});
  }

  const text::SourceFile& file_;
  text::Diagnostics& diagnostics_;
  std::vector<Level> stack_;
  Node root_;
  bool seen_ = false;
  YAML::Mark start_ = YAML::Mark::null_mark();
};

/// What the YAML reader says, in words for someone who does not know its insides.
std::string in_plain_words(const YAML::Exception& problem, const text::SourceFile& file) {
  static constexpr std::pair<std::string_view, std::string_view> kWords[] = {
      {"end of map flow not found", "a { is not closed"},
      {"end of sequence flow not found", "a [ is not closed"},
      {"illegal flow end", "a } or ] closes nothing"},
      {"illegal EOF in scalar", "a quote is not closed"},
      {"illegal map value", "a colon stands where no value can begin; a text with a colon in it needs quotes"},
      {"end of map not found", "this line does not stand under the one above as it should; compare their first letters"},
      {"end of sequence not found", "this line does not stand under the - above; compare their first letters"},
      {"illegal block entry", "a - stands where no list can begin"},
      {"illegal map key", "a key stands where none can begin"},
      {"unknown token", "a sign stands where a text needs quotes around it"}};
  const std::string_view line = problem.mark.is_null() ? "" : text::line_of(file, static_cast<std::uint32_t>(problem.mark.line + 1));
  if (line.substr(0, line.find_first_not_of(" \t")).find('\t') != std::string_view::npos) return "a tab; indent with blanks";
  for (const auto& [said, meant] : kWords)
    if (problem.msg == said) return std::string(meant);
  return problem.msg;
}

}  // namespace

const Entry* Node::find_entry(std::string_view key) const {
  for (const auto& entry : entries)
    if (entry.key.text == key) return &entry;
  return nullptr;
}

const Node* Node::find(std::string_view key) const {
  const Entry* entry = find_entry(key);
  return entry ? &entry->value : nullptr;
}

std::vector<Node> parse(const text::SourceFile& file, text::Diagnostics& diagnostics) {
  std::vector<Node> documents;
  if (auto plain = read_plain(file)) documents.push_back(std::move(*plain));
  else documents = read_full(file, diagnostics);
  return documents;
}

std::vector<Node> read_full(const text::SourceFile& file, text::Diagnostics& diagnostics) {
  std::vector<Node> documents;
  try {
    std::istringstream stream(file.text);
    YAML::Parser parser(stream);
    YAML::Mark before = YAML::Mark::null_mark();
    for (;;) {
      Builder builder(file, diagnostics);
      if (!parser.HandleNextDocument(builder)) break;
      // The parser neither takes nor refuses a comma outside of brackets and would give empty documents for ever.
      if (builder.start().pos == before.pos) throw YAML::ParserException(before, "this sign can't stand here");
      before = builder.start();
      if (!builder.empty()) documents.push_back(builder.take());
    }
  } catch (const YAML::Exception& problem) {
    const Place place{&file, static_cast<std::uint32_t>(problem.mark.line + 1),
                      static_cast<std::uint32_t>(problem.mark.column + 1), 1};
    diagnostics.add(MessageId::Y001, problem.mark.is_null() ? Place{&file, 0, 0, 0} : place, {in_plain_words(problem, file)});
  }
  return documents;
}

void check_keys(const Node& map, const std::vector<std::string>& allowed, std::string_view what,
                text::Diagnostics& diagnostics) {
  for (const auto& entry : map.entries) {
    bool known = false;
    for (const auto& name : allowed) known = known || name == entry.key.text;
    if (!known)
      diagnostics.add(MessageId::Y003, entry.key.place,
                      {std::string(what), entry.key.text, text::suggestion(entry.key.text, allowed)});
  }
}

const Node* may(const Node& map, std::string_view key, Kind kind, std::string_view what,
                text::Diagnostics& diagnostics) {
  const Entry* entry = map.find_entry(key);
  if (!entry) return nullptr;
  if (entry->value.kind != kind) {
    diagnostics.add(MessageId::Y005, entry->value.place.known() ? entry->value.place : entry->key.place,
                    {std::string(what), std::string(key), std::string(word(kind)), std::string(word(entry->value.kind))});
    return nullptr;
  }
  return &entry->value;
}

const Node* need(const Node& map, std::string_view key, Kind kind, std::string_view what,
                 text::Diagnostics& diagnostics) {
  if (!map.find_entry(key)) {
    diagnostics.add(MessageId::Y004, map.place, {std::string(what), std::string(key)});
    return nullptr;
  }
  return may(map, key, kind, what, diagnostics);
}

std::string_view word(Kind kind) {
  switch (kind) {
    case Kind::null: return "nothing";
    case Kind::scalar: return "a text";
    case Kind::sequence: return "a list";
    case Kind::map: return "a map";
  }
  return "";
}

}  // namespace jambcheck::yaml
