// Sizes, stock, loads and words for steps: what stands only at the top of a file.
#include "read_declaration.h"

namespace kw::reading {
namespace {

constexpr Key<SizeDecl> size_keys[] = {
    key<SizeDecl, &SizeDecl::is>("is", Need::must),
    key<SizeDecl, &SizeDecl::from>("from"),
    key<SizeDecl, &SizeDecl::to>("to"),
    key<SizeDecl, &SizeDecl::step>("step"),
    key<SizeDecl, &SizeDecl::note>("note"),
};

constexpr Key<OfferDecl> buy_keys[] = {
    key<OfferDecl, &OfferDecl::length>("length", Need::must),
    key<OfferDecl, &OfferDecl::price>("price"),
};

constexpr Key<OfferDecl> have_keys[] = {
    key<OfferDecl, &OfferDecl::length>("length", Need::must),
    key<OfferDecl, &OfferDecl::count>("count"),
};

void read_offers(Reader& reader, const TomlNode& node, std::span<const Key<OfferDecl>> keys,
                 std::vector<OfferDecl>& into) {
  const std::string form =
      fmt::format("a list of tables, {{ {} = ..., {} = ... }}", keys[0].name, keys[1].name);
  if (node.kind != NodeKind::list) return reader.wrong_type(node, form);
  const OwnerScope owner(reader, fmt::format("an item of `{}` of {}", node.key, reader.owner));
  for (const TomlNode& item : node.items) {
    reader.key = node.key;
    if (item.kind != NodeKind::table) {
      reader.wrong_type(item, "a table in braces");
      continue;
    }
    OfferDecl& offer = into.emplace_back(OfferDecl{.at = item.at});
    read_keys(reader, item, keys, offer);
  }
}

constexpr Key<StockDecl> stock_keys[] = {
    key<StockDecl, &StockDecl::section>("section"),
    key<StockDecl, &StockDecl::species>("species"),
    key<StockDecl, &StockDecl::grade>("grade"),
    key<StockDecl, &StockDecl::rip>("rip"),
    key<StockDecl, &StockDecl::actual>("actual"),
    key<StockDecl, &StockDecl::is_green>("green"),
    key<StockDecl, &StockDecl::sheet>("sheet"),
    {"buy", "buy",
     [](Reader& reader, const TomlNode& node, StockDecl& into) {
       read_offers(reader, node, buy_keys, into.buy);
     }},
    {"have", "have",
     [](Reader& reader, const TomlNode& node, StockDecl& into) {
       read_offers(reader, node, have_keys, into.have);
     }},
    key<StockDecl, &StockDecl::note>("note"),
};

constexpr Key<LoadDecl> load_keys[] = {
    key<LoadDecl, &LoadDecl::on>("on", Need::must),
    key<LoadDecl, &LoadDecl::kind>("kind", Need::must),
    key<LoadDecl, &LoadDecl::each>("each"),
    key<LoadDecl, &LoadDecl::note>("note"),
};

constexpr Key<StepDecl> step_keys[] = {
    key<StepDecl, &StepDecl::title>("title"),
    key<StepDecl, &StepDecl::text>("text"),
    key<StepDecl, &StepDecl::note>("note"),
};

}  // namespace

bool read_size(Reader& reader, const TomlNode& table, SizeDecl& into) {
  check_formula_name(reader, into.name);
  read_keys<SizeDecl>(reader, table, size_keys, into);
  return true;
}

bool read_stock(Reader& reader, const TomlNode& table, StockDecl& into) {
  read_keys<StockDecl>(reader, table, stock_keys, into);
  if (table.find("section") == nullptr && table.find("actual") == nullptr) {
    reader.missing_key(table, fmt::format("{} must say its `section`", reader.owner),
                       "as in section = \"2x4\", or section = [\"19 mm\", \"100 mm\"]");
  }
  return true;
}

bool read_load(Reader& reader, const TomlNode& table, LoadDecl& into) {
  read_keys<LoadDecl>(reader, table, load_keys, into);
  return true;
}

bool read_step(Reader& reader, const TomlNode& table, StepDecl& into) {
  read_keys<StepDecl>(reader, table, step_keys, into);
  return true;
}

void add_stock_keys(std::vector<KeyTable>& into) {
  into.push_back(facts_of<SizeDecl>("size", size_keys));
  into.push_back(facts_of<StockDecl>("stock", stock_keys));
  into.push_back(facts_of<OfferDecl>("buy-item", buy_keys));
  into.push_back(facts_of<OfferDecl>("have-item", have_keys));
  into.push_back(facts_of<LoadDecl>("load", load_keys));
  into.push_back(facts_of<StepDecl>("step", step_keys));
}

}  // namespace kw::reading
