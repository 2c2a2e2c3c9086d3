// The fast way through a plain file; see readers.h. Whatever is not plain makes it give up, never guess.
#include <algorithm>

#include "yaml/readers.h"

namespace jambcheck::yaml {
namespace {

struct GiveUp {};

class PlainReader {
 public:
  explicit PlainReader(const text::SourceFile& file) : file_(file), text_(file.text) {}

  Node read() {
    for (const char c : text_)
      if ((c < ' ' && c != '\n') || c == 0x7f) throw GiveUp();  // tabs, line ends of other systems, letters beyond ASCII
    next_content();
    if (at_ == text_.size() || column() != 0) throw GiveUp();
    Node node = block(0);
    if (at_ != text_.size()) throw GiveUp();
    return node;
  }

 private:
  // ---- the text
  [[nodiscard]] char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\n'; }
  [[nodiscard]] std::size_t column() const { return at_ - line_start_; }
  [[nodiscard]] text::Place place(std::size_t length) const {
    return {&file_, line_, static_cast<std::uint32_t>(column() + 1), static_cast<std::uint32_t>(length)};
  }
  void skip_blanks() {
    while (peek() == ' ') ++at_;
  }
  /// To the first letter that is no blank, line end or comment.
  void next_content() {
    for (;;) {
      skip_blanks();
      if (at_ == text_.size()) return;
      if (text_[at_] == '#' && (at_ == line_start_ || text_[at_ - 1] == ' ')) at_ = std::min(text_.find('\n', at_), text_.size());
      else if (text_[at_] != '\n') break;
      if (at_ == text_.size()) return;
      ++at_;
      ++line_;
      line_start_ = at_;
    }
    if (column() == 0) {
      const std::string_view mark = text_.substr(at_, 3);
      if (mark == "---" || mark == "..." || mark.front() == '%') throw GiveUp();
    }
  }
  /// After a value in a block: nothing more may stand in its line.
  void end_of_value() {
    const std::uint32_t line = line_;
    next_content();
    if (at_ != text_.size() && line_ == line) throw GiveUp();
  }

  // ---- texts
  [[nodiscard]] bool ends_plain(bool flow) const {
    const char c = peek(), next = peek(1);
    if (c == '\n') return true;
    if (c == ':' && (next == ' ' || next == '\n')) return true;
    if (c == ' ' && next == '#') return true;
    if (!flow) return false;
    if (c == '[' || c == '{' || c == '?' || (c == ':' && (next == ',' || next == ']' || next == '}' || next == '[' || next == '{'))) throw GiveUp();
    return c == ',' || c == ']' || c == '}';
  }
  Node plain(bool flow) {
    constexpr std::string_view kSigns = ",[]{}#&*!|>%@`?:\"'=<";
    const char first = peek();
    if (kSigns.find(first) != std::string_view::npos) throw GiveUp();
    if (first == '-' && (peek(1) == ' ' || peek(1) == '\n' || (flow && kSigns.find(peek(1)) != std::string_view::npos))) throw GiveUp();
    Node node;
    node.kind = Kind::scalar;
    node.place = place(0);
    const std::size_t start = at_;
    while (!ends_plain(flow)) ++at_;
    std::size_t end = at_;
    while (end > start && text_[end - 1] == ' ') --end;
    node.text = std::string(text_.substr(start, end - start));
    if (node.text == "~" || node.text == "null" || node.text == "Null" || node.text == "NULL") {
      node.kind = Kind::null;
      node.text.clear();
    }
    node.place.length = static_cast<std::uint32_t>(node.text.size());
    return node;
  }
  Node quoted() {
    const char quote = peek();
    ++at_;
    Node node;
    node.kind = Kind::scalar;
    node.quoted = true;
    node.place = place(0);
    for (;; ++at_) {
      const char c = peek();
      if (c == '\n') throw GiveUp();
      if (quote == '"' && c == '\\') {
        ++at_;
        if (peek() != '"' && peek() != '\\') throw GiveUp();
        node.text += peek();
      } else if (c != quote) {
        node.text += c;
      } else if (quote == '\'' && peek(1) == '\'') {
        ++at_;
        node.text += c;
      } else {
        break;
      }
    }
    ++at_;
    node.place.length = static_cast<std::uint32_t>(node.text.size());
    return node;
  }
  Node scalar(bool flow) { return peek() == '"' || peek() == '\'' ? quoted() : plain(flow); }

  // ---- flow
  Node flow() {
    if (++depth_ > kDeepest) throw GiveUp();
    Node node = peek() == '{' ? flow_map() : peek() == '[' ? flow_list() : scalar(true);
    --depth_;
    return node;
  }
  void next_in_flow() {
    const std::uint32_t line = line_;
    next_content();
    if (at_ == text_.size() || (line_ != line && column() == 0)) throw GiveUp();
  }
  /// After an item: a comma and more (true), or the closing bracket.
  bool more(char closing) {
    next_in_flow();
    const char c = peek();
    ++at_;
    if (c == closing) return false;
    if (c != ',') throw GiveUp();
    next_in_flow();
    if (peek() == closing) throw GiveUp();
    return true;
  }
  Node flow_list() {
    Node node;
    node.kind = Kind::sequence;
    node.place = place(1);
    ++at_;
    next_in_flow();
    if (peek() == ']') {
      ++at_;
      return node;
    }
    do node.items.push_back(flow());
    while (more(']'));
    return node;
  }
  Node flow_map() {
    Node node;
    node.kind = Kind::map;
    node.place = place(1);
    ++at_;
    next_in_flow();
    if (peek() == '}') {
      ++at_;
      return node;
    }
    do {
      Node key = scalar(true);
      if (!key.is_scalar() || peek() != ':' || peek(1) != ' ') throw GiveUp();
      ++at_;
      const std::uint32_t line = line_;
      next_in_flow();
      if (line_ != line) throw GiveUp();
      add(node, std::move(key), flow());
    } while (more('}'));
    return node;
  }
  static void add(Node& map, Node key, Node value) {
    if (map.find_entry(key.text) != nullptr) throw GiveUp();
    map.entries.push_back({std::move(key), std::move(value)});
  }

  // ---- block
  [[nodiscard]] bool at_dash() const { return peek() == '-' && peek(1) == ' '; }

  Node block(std::size_t indent) {
    if (++depth_ > kDeepest) throw GiveUp();
    Node node = at_dash() ? block_list(indent) : block_map(indent, scalar(false));
    --depth_;
    return node;
  }
  Node block_list(std::size_t indent) {
    Node node;
    node.kind = Kind::sequence;
    node.place = place(1);
    while (at_ != text_.size() && column() == indent && at_dash()) {
      const std::uint32_t line = line_;
      ++at_;
      next_content();
      if (at_ == text_.size() || line_ != line || at_dash()) throw GiveUp();
      node.items.push_back(item());
    }
    leave(indent);
    return node;
  }
  /// What stands behind a dash: a value, or the first key of a map that goes on below it.
  Node item() {
    if (peek() == '{' || peek() == '[') return value();
    const std::size_t indent = column();
    Node first = scalar(false);
    if (peek() != ':') {
      end_of_value();
      return first;
    }
    if (++depth_ > kDeepest) throw GiveUp();
    Node map = block_map(indent, std::move(first));
    --depth_;
    return map;
  }
  /// A map whose first key was read already.
  Node block_map(std::size_t indent, Node key) {
    Node node;
    node.kind = Kind::map;
    node.place = key.place;
    node.place.length = 1;
    if (key.quoted) --node.place.column;
    for (;;) {
      if (!key.is_scalar() || peek() != ':') throw GiveUp();
      ++at_;
      if (peek() != ' ' && peek() != '\n') throw GiveUp();
      Node under = value_of_key(indent);
      add(node, std::move(key), std::move(under));
      if (at_ == text_.size() || column() != indent || at_dash()) break;
      key = scalar(false);
    }
    leave(indent);
    return node;
  }
  Node value_of_key(std::size_t indent) {
    const std::uint32_t line = line_;
    next_content();
    if (at_ == text_.size()) throw GiveUp();
    if (line_ == line) return value();
    if (column() > indent) return block(column());
    if (column() == indent && at_dash()) return block(indent);
    throw GiveUp();  // no value
  }
  /// A value in the rest of a line.
  Node value() {
    Node node = peek() == '{' || peek() == '[' ? flow() : scalar(false);
    end_of_value();
    return node;
  }
  /// What follows a block stands further out.
  void leave(std::size_t indent) const {
    if (at_ != text_.size() && column() > indent) throw GiveUp();
  }

  static constexpr int kDeepest = 40;
  const text::SourceFile& file_;
  std::string_view text_;
  std::size_t at_ = 0, line_start_ = 0;
  std::uint32_t line_ = 1;
  int depth_ = 0;
};

}  // namespace

std::optional<Node> read_plain(const text::SourceFile& file) {
  try {
    return PlainReader(file).read();
  } catch (const GiveUp&) {
    return std::nullopt;
  }
}

}  // namespace jambcheck::yaml
