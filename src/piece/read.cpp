// The file as a whole: its own keys, then what it declares.
#include "read_declaration.h"

namespace kw {
namespace reading {
namespace {

constexpr std::int64_t format_read = 1;

// Units and constants of formulas (expression.h); no size may be called so.
constexpr std::string_view reserved[] = {"in", "ft", "mm", "cm", "m", "deg", "rad",
                                         "kg", "g",  "lb", "oz", "N", "lbf", "pi"};

void take_unit(Reader& reader, const TomlNode& node, Document& into) {
  Name word;
  take(reader, node, word);
  if (word.text.empty()) return;
  if (word.text == "mm") into.unit = LengthUnit::mm;
  if (word.text == "mm" || word.text == "in") return;
  reader.report(
      {.code = "piece.unknown-unit",
       .at = word.at,
       .message = fmt::format("`{}` is no unit of a piece file", word.text),
       .hint = "write \"in\" or \"mm\"; single values may still have units of their own"});
}

void take_title(Reader& reader, const TomlNode& node, Document& into) {
  take(reader, node, into.title);
  if (node.kind == NodeKind::text && into.title.empty()) reader.empty_value(node);
}

constexpr std::array saw_keys = {
    key<Document, &Document::kerf>("kerf"),
    key<Document, &Document::trim>("trim"),
    key<Document, &Document::offcut>("offcut"),
};

void take_saw(Reader& reader, const TomlNode& node, Document& into) {
  if (node.kind != NodeKind::table) return reader.wrong_type(node, "a table, [saw]");
  const OwnerScope owner(reader, "[saw]");
  read_keys<Document>(reader, node, saw_keys, into);
}

constexpr std::array book_keys = {
    key<BookDecl, &BookDecl::finish>("finish"),
    key<BookDecl, &BookDecl::care>("care"),
};

void take_book(Reader& reader, const TomlNode& node, Document& into) {
  if (node.kind != NodeKind::table) return reader.wrong_type(node, "a table, [book]");
  const OwnerScope owner(reader, "[book]");
  read_keys<BookDecl>(reader, node, book_keys, into.book);
}

constexpr std::array climate_keys = {
    key<ClimateDecl, &ClimateDecl::named>("named"),
    key<ClimateDecl, &ClimateDecl::humidity>("humidity"),
    key<ClimateDecl, &ClimateDecl::celsius>("celsius"),
    key<ClimateDecl, &ClimateDecl::fahrenheit>("fahrenheit"),
    key<ClimateDecl, &ClimateDecl::moisture>("moisture"),
};

void take_climate(Reader& reader, const TomlNode& node, Document& into) {
  if (node.kind != NodeKind::table) return reader.wrong_type(node, "a table, [climate]");
  const OwnerScope owner(reader, "[climate]");
  into.climate = ClimateDecl{.at = node.at};
  read_keys<ClimateDecl>(reader, node, climate_keys, *into.climate);
}

template <class Decl, std::vector<Decl> Document::*Where,
          bool (*Read)(Reader&, const TomlNode&, Decl&)>
constexpr Key<Document> declarations(std::string_view word) {
  return {word, "declarations", [](Reader& reader, const TomlNode& node, Document& into) {
            read_named<Decl>(reader, node, node.key, Read, into.*Where);
          }};
}

// The format is settled before anything else is read.
void already_read(Reader&, const TomlNode&, Document&) {}

constexpr std::array file_keys = {
    Key<Document>{"format", "format", already_read, true},
    Key<Document>{"piece", "title", take_title, true},
    Key<Document>{"unit", "unit", take_unit, true},
    key<Document, &Document::rule>("rule"),
    key<Document, &Document::author>("author"),
    key<Document, &Document::licence>("licence"),
    key<Document, &Document::note>("note"),
    key<Document, &Document::tags>("tags"),
    key<Document, &Document::currency>("currency"),
    Key<Document>{"saw", "saw", take_saw},
    declarations<SizeDecl, &Document::sizes, read_size>("size"),
    declarations<StockDecl, &Document::stocks, read_stock>("stock"),
    declarations<AssemblyDecl, &Document::assemblies, read_assembly>("assembly"),
    declarations<LoadDecl, &Document::loads, read_load>("load"),
    declarations<StepDecl, &Document::steps, read_step>("step"),
    Key<Document>{"book", "book", take_book},
    Key<Document>{"climate", "climate", take_climate},
};

// Whether the file is of a format that can be read at all.
bool check_format(Reader& reader, const TomlNode& root) {
  const TomlNode* format = root.find("format");
  if (format == nullptr) {
    reader.report({.code = "piece.format",
                   .message = "the file does not say its `format`",
                   .hint = "begin the file with the line: format = 1"});
    return true;
  }
  if (format->kind != NodeKind::integer) {
    reader.wrong_type(*format, "a whole number");
    return true;
  }
  if (format->integer == format_read) return true;
  reader.report({.code = "piece.format",
                 .at = format->at,
                 .message = fmt::format("this is format {}; this program reads format {}",
                                        format->integer, format_read),
                 .hint = "a newer format needs a newer program"});
  return false;
}

void miss_file_keys(Reader& reader, const TomlNode& root) {
  if (root.find("piece") == nullptr) {
    reader.missing_key(root, "the file does not say what the `piece` is",
                       "write a line such as: piece = \"Market trestle\"");
  }
  if (root.find("unit") == nullptr) {
    reader.missing_key(root, "the file does not say its `unit`",
                       "write a line: unit = \"in\", or unit = \"mm\"");
  }
}

// The values that formulas call by a bare name.
void check_values_distinct(Reader& reader, const Document& document) {
  std::vector<Name> names;
  for (const SizeDecl& size : document.sizes) names.push_back(size.name);
  for (const DerivedDecl& derived : document.top.derived) names.push_back(derived.name);
  std::stable_sort(names.begin(), names.end(),
                   [](const Name& a, const Name& b) { return a.at.begin < b.at.begin; });
  check_distinct(reader, names, "sizes and derived values");
}

std::vector<KeyTable> all_tables() {
  std::vector<KeyTable> tables;
  tables.push_back(facts_of<Document>("file", file_keys));
  tables.push_back(facts_of<Document>("saw", saw_keys));
  tables.push_back(facts_of<BookDecl>("book", book_keys));
  tables.push_back(facts_of<ClimateDecl>("climate", climate_keys));
  add_stock_keys(tables);
  add_board_keys(tables);
  add_place_keys(tables);
  add_copy_keys(tables);
  add_joint_keys(tables);
  add_scope_keys(tables);
  const std::vector<KeyFact>& scope = tables.back().keys;  // the file is a scope too
  tables.front().keys.insert(tables.front().keys.end(), scope.begin(), scope.end());
  return tables;
}

std::vector<std::string> all_file_keys() {
  std::vector<std::string> names = names_of<Document>(file_keys);
  for (std::string& name : scope_key_names()) names.push_back(std::move(name));
  return names;
}

void read_file(Reader& reader, const TomlNode& root, Document& into) {
  if (!check_format(reader, root)) return;
  // Formulas anywhere in the file need the unit, wherever it stands.
  const TomlNode* unit = root.find("unit");
  if (unit != nullptr && unit->text == "mm") reader.unit = LengthUnit::mm;
  reader.owner = "the file";
  for (const TomlNode& item : root.items) {
    const Key<Document>* found = find_key<Document>(file_keys, item.key);
    if (found != nullptr)
      read_key(reader, item, *found, into);
    else if (!read_scope_key(reader, item, into.top))
      unknown_key(reader, item, all_file_keys());
  }
  miss_file_keys(reader, root);
  finish_scope(reader, into.top);
  check_values_distinct(reader, into);
}

}  // namespace

void check_formula_name(Reader& reader, const Name& name) {
  if (std::find(std::begin(reserved), std::end(reserved), name.text) == std::end(reserved)) return;
  reader.report({.code = "piece.reserved-name",
                 .at = name.at,
                 .message = fmt::format("`{}` means something of its own in formulas", name.text),
                 .hint = "give it a longer name"});
}

Name key_name_of(const TomlNode& node) {
  return {node.key, node.key_at};
}

}  // namespace reading

Reading<Document> read_piece(const Text& text) {
  const auto tree = reading::tree_of(text);
  if (!tree) return {.diagnostics = tree.diagnostics()};
  reading::Reader reader(text.content);
  Document document;
  reading::read_file(reader, **tree, document);
  return {std::move(document), std::move(reader).take_faults()};
}

const std::vector<KeyTable>& piece_keys() {
  static const std::vector<KeyTable> tables = reading::all_tables();
  return tables;
}

}  // namespace kw
