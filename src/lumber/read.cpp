// Reads the tables: the named texts of each file first, then its rows, then the names of all.
#include <algorithm>
#include <fmt/core.h>
#include <map>

#include "kerfwright/lumber/catalogue.h"

#include "names.h"
#include "read_rows.h"

namespace kw {
namespace {

using namespace lumber;

struct FirstUse {
  std::string row = {};
  const Text* text = nullptr;
  Span at = {};
};

// Who took a name first, by the name's key.
using Taken = std::map<std::string, FirstUse, std::less<>>;

NamedTexts named_texts_in(const Cell& file, std::string_view key, Page& page) {
  NamedTexts texts;
  const Cell* table = find_cell(file, key);
  if (table == nullptr) return texts;
  if (table->kind != CellKind::table) {
    page.fault("lumber.bad-value", table->at, fmt::format("`{}` wants a table", key),
               fmt::format("write [{}], and below it name = \"text\"", key));
    return texts;
  }
  for (const Cell& item : table->items) {
    if (item.kind == CellKind::text && !item.text.empty()) {
      texts.emplace(item.key, item.text);
    } else {
      page.fault("lumber.bad-value", item.at,
                 fmt::format("`{}` in [{}] wants a text", item.key, key), "write it out in quotes");
    }
  }
  return texts;
}

void read_lengths(const Cell& file, Page& page) {
  const Cell* lists = find_cell(file, "lengths");
  if (lists == nullptr) return;
  if (lists->kind != CellKind::table) {
    page.fault("lumber.bad-value", lists->at, "`lengths` wants tables",
               "write [lengths.some-name], and below it `are` and `source`");
    return;
  }
  for (const Cell& list : lists->items) {
    Row row(list, page, {"are", "source"});
    page.lists.emplace(list.key, LengthList{row.lengths("are"), row.source()});
  }
}

void refuse_clash(const std::string& name, const FirstUse& first, Span at, Page& page) {
  if (page.is_full()) return page.fault("lumber.twice", at, "", "");
  const Position place = position_of(*first.text, first.at.begin);
  page.fault("lumber.twice", at,
             fmt::format("`{}` already names `{}` ({}, line {})", name, first.row, first.text->name,
                         place.line),
             "letter case, hyphens, commas and the order of words make no other name: rename one");
}

// Whether no name of `row` is taken by an earlier row; its names are taken from now on.
template <class T>
bool take_names(const T& row, const Cell& cell, Taken& taken, Page& page) {
  std::vector<std::string> names = {row.name};
  names.insert(names.end(), row.aka.begin(), row.aka.end());
  std::vector<std::string> keys;
  for (const std::string& name : names) keys.push_back(key_of(name));
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const auto first = taken.find(keys[i]);
    if (first == taken.end()) continue;
    refuse_clash(names[i], first->second, cell.at, page);
    return false;
  }
  for (std::string& key : keys) {
    taken.emplace(std::move(key), FirstUse{row.name, &page.text(), cell.at});
  }
  return true;
}

template <class T>
using RowReader = std::optional<T> (*)(const Cell&, Page&);

template <class T>
void read_rows(const Cell& file, std::string_view key, RowReader<T> read, std::vector<T>& into,
               Taken& taken, Page& page) {
  const Cell* rows = find_cell(file, key);
  if (rows == nullptr) return;
  if (rows->kind != CellKind::list) {
    page.fault("lumber.bad-value", rows->at, fmt::format("`{}` wants a list of rows", key),
               fmt::format("begin each row with [[{}]]", key));
    return;
  }
  for (const Cell& cell : rows->items) {
    auto row = read(cell, page);
    if (row && take_names(*row, cell, taken, page)) into.push_back(*std::move(row));
  }
}

struct AllTaken {
  Taken sizes = {}, species = {}, fasteners = {}, adhesives = {}, finishes = {};
};

void read_file(const Text& text, Catalogue& into, AllTaken& taken, Diagnostics& faults) {
  const auto file = keep(parse_table(text), faults);
  if (!file) return;
  const std::size_t before = faults.size();
  Page page(text, faults);
  const Row top(
      *file, page,
      {"source", "caution", "lengths", "size", "species", "fastener", "adhesive", "finish"});
  page.sources = named_texts_in(*file, "source", page);
  page.cautions = named_texts_in(*file, "caution", page);
  read_lengths(*file, page);
  read_rows(*file, "size", read_size, into.sizes, taken.sizes, page);
  read_rows(*file, "species", read_species, into.species, taken.species, page);
  read_rows(*file, "fastener", read_fastener, into.fasteners, taken.fasteners, page);
  read_rows(*file, "adhesive", read_adhesive, into.adhesives, taken.adhesives, page);
  read_rows(*file, "finish", read_finish, into.finishes, taken.finishes, page);
  std::stable_sort(
      faults.begin() + static_cast<std::ptrdiff_t>(before), faults.end(),
      [](const Diagnostic& a, const Diagnostic& b) { return a.at.begin < b.at.begin; });
}

}  // namespace

Reading<Catalogue> read_catalogue(const std::vector<Text>& tables) {
  Reading<Catalogue> reading;
  AllTaken taken;
  for (const Text& text : tables) read_file(text, reading.value, taken, reading.diagnostics);
  return reading;
}

}  // namespace kw
