#include "toml_node.h"

#include <algorithm>
#include <mutex>
#include <toml++/toml.h>

namespace kw::reading {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// From the line and column of toml++ (which counts code points, and none for a byte-order mark) to
// a byte. Every 64th code point is remembered, so that a long line costs no more than a short one.
class PlaceIndex {
 public:
  explicit PlaceIndex(std::string_view content) : content_(content) {
    std::size_t ordinal = 0;
    line_starts_.push_back(0);
    for (std::size_t i = first_byte(); i < content.size(); i = next(i)) {
      if (ordinal % stride == 0) marks_.push_back(i);
      ++ordinal;
      if (content[i] == '\n') line_starts_.push_back(ordinal);
    }
    total_ = ordinal;
  }

  [[nodiscard]] std::uint32_t offset_of(toml::source_position place) const {
    if (place.line == 0 || place.line > line_starts_.size()) return size();
    const std::size_t ordinal = line_starts_[place.line - 1] + std::max(place.column, 1U) - 1;
    if (ordinal >= total_) return size();
    std::size_t i = marks_[ordinal / stride];
    for (std::size_t k = 0; k < ordinal % stride; ++k) i = next(i);
    return static_cast<std::uint32_t>(i);
  }

  [[nodiscard]] Span span_of(const toml::source_region& region) const {
    const std::uint32_t begin = offset_of(region.begin);
    return {begin, std::max(begin, offset_of(region.end))};
  }

 private:
  static constexpr std::size_t stride = 64;

  [[nodiscard]] std::size_t first_byte() const {
    return content_.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
  }
  [[nodiscard]] std::size_t next(std::size_t i) const {
    do ++i;
    while (i < content_.size() && (static_cast<unsigned char>(content_[i]) & 0xC0U) == 0x80U);
    return i;
  }
  [[nodiscard]] std::uint32_t size() const { return static_cast<std::uint32_t>(content_.size()); }

  std::string_view content_;
  std::vector<std::size_t> line_starts_ = {};  // the ordinal of each line's first code point
  std::vector<std::size_t> marks_ = {};        // the byte of each 64th code point
  std::size_t total_ = 0;
};

class Converter {
 public:
  explicit Converter(std::string_view content) : content_(content), places_(content) {}

  [[nodiscard]] TomlNode convert(const toml::node& from) const {
    TomlNode node;
    node.at = places_.span_of(from.source());
    if (const auto* table = from.as_table()) {
      fill_table(*table, node);
    } else if (const auto* list = from.as_array()) {
      node.kind = NodeKind::list;
      for (const toml::node& item : *list) node.items.push_back(convert(item));
      if (list->is_array_of_tables() && node.items[0].form == TableForm::header) {
        node.at = node.items[0].at;  // [[the first of them]]
      }
    } else {
      fill_scalar(from, node);
    }
    return node;
  }

 private:
  void fill_table(const toml::table& table, TomlNode& node) const {
    for (const auto& [key, value] : table) {
      TomlNode item = convert(value);
      item.key = std::string(key.str());
      item.key_at = places_.span_of(key.source());
      node.items.push_back(std::move(item));
    }
    std::sort(node.items.begin(), node.items.end(),
              [](const TomlNode& a, const TomlNode& b) { return a.key_at.begin < b.key_at.begin; });
    if (table.is_inline())
      node.form = TableForm::inline_braces;
    else if (has_own_header(node))
      node.form = TableForm::header;
  }

  // A table that only a header below it implies has that header's place as its own.
  [[nodiscard]] bool has_own_header(const TomlNode& node) const {
    if (node.at.begin >= content_.size() || content_[node.at.begin] != '[') return false;
    return std::none_of(node.items.begin(), node.items.end(), [&](const TomlNode& item) {
      return item.kind >= NodeKind::list && item.at.begin == node.at.begin;
    });
  }

  static void fill_scalar(const toml::node& from, TomlNode& node) {
    if (const auto* text = from.as_string()) {
      node.kind = NodeKind::text;
      node.text = text->get();
    } else if (const auto* integer = from.as_integer()) {
      node.kind = NodeKind::integer;
      node.integer = integer->get();
    } else if (const auto* real = from.as_floating_point()) {
      node.kind = NodeKind::real;
      node.real = real->get();
    } else if (const auto* truth = from.as_boolean()) {
      node.kind = NodeKind::truth;
      node.is_true = truth->get();
    } else {
      node.kind = NodeKind::date;
    }
  }

  std::string_view content_;
  PlaceIndex places_;
};

}  // namespace

const TomlNode* TomlNode::find(std::string_view wanted) const {
  for (const TomlNode& item : items) {
    if (item.key == wanted) return &item;
  }
  return nullptr;
}

std::string_view name_of(NodeKind kind) {
  switch (kind) {
    case NodeKind::text:
      return "text";
    case NodeKind::integer:
      return "a whole number";
    case NodeKind::real:
      return "a number";
    case NodeKind::truth:
      return "true or false";
    case NodeKind::date:
      return "a date or time";
    case NodeKind::list:
      return "a list";
    case NodeKind::table:
      return "a table";
  }
  return "a value";
}

Inside inside_of(const TomlNode& node, std::string_view content) {
  const std::string_view raw = content.substr(node.at.begin, node.at.end - node.at.begin);
  const bool is_long = raw.size() >= 6 && raw[1] == raw[0] && raw[2] == raw[0];
  const std::uint32_t quotes = is_long ? 3 : 1;
  if (raw.size() < 2 * quotes || raw.substr(quotes, raw.size() - 2 * quotes) != node.text) {
    return {false, node.at};
  }
  return {true, {node.at.begin + quotes, node.at.end - quotes}};
}

namespace {

// The newest stands first.
class Remembered {
 public:
  std::shared_ptr<const TomlNode> find(const std::string& content) {
    const std::lock_guard lock(mutex_);
    const auto known = std::find_if(all_.begin(), all_.end(),
                                    [&](const Known& one) { return one.content == content; });
    if (known == all_.end()) return nullptr;
    std::rotate(all_.begin(), known, known + 1);
    return all_.front().tree;
  }
  void add(const std::string& content, std::shared_ptr<const TomlNode> tree) {
    if (content.size() > longest) return;
    const std::lock_guard lock(mutex_);
    if (all_.size() == most) all_.pop_back();
    all_.insert(all_.begin(), {content, std::move(tree)});
  }

 private:
  static constexpr std::size_t most = 4, longest = 200'000;
  struct Known {
    std::string content = {};
    std::shared_ptr<const TomlNode> tree = {};
  };
  std::mutex mutex_ = {};
  std::vector<Known> all_ = {};
};

}  // namespace

Outcome<std::shared_ptr<const TomlNode>> tree_of(const Text& text) {
  static Remembered remembered;
  if (auto known = remembered.find(text.content)) return known;
  auto parsed = parse_toml(text);
  if (!parsed) return parsed.diagnostics();
  std::shared_ptr<const TomlNode> tree = std::make_shared<TomlNode>(*std::move(parsed));
  remembered.add(text.content, tree);
  return tree;
}

Outcome<TomlNode> parse_toml(const Text& text) {
  Diagnostics faults = faults_before_parsing(text);
  if (!faults.empty()) return faults;
  try {
    const toml::table root = toml::parse(std::string_view(text.content));
    TomlNode tree = Converter(text.content).convert(root);
    tree.form = TableForm::header;  // keys may be added to the file itself
    tree.at = {};
    return tree;
  } catch (const toml::parse_error& error) {
    const std::uint32_t offset = PlaceIndex(text.content).offset_of(error.source().begin);
    return syntax_fault(text, offset, error.description());
  } catch (const std::exception& error) {
    return syntax_fault(text, 0, error.what());
  }
}

}  // namespace kw::reading
