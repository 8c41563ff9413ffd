#include <algorithm>
#include <cstdio>
#include <fmt/core.h>

#include "kerfwright/lumber/catalogue.h"

#include "commands.h"

namespace kw::cli {
namespace {

void print(const Found& found) {
  fmt::print("{} ({})\n", found.name, found.kind);
  std::size_t widest = 0;
  for (const auto& row : found.rows) widest = std::max(widest, row.first.size());
  for (const auto& row : found.rows) fmt::print("  {:<{}}  {}\n", row.first, widest, row.second);
  for (const std::string& source : found.sources) fmt::print("  source: {}\n", source);
  fmt::print("\n");
}

std::string nearest_in_catalogue(const Catalogue& catalogue, const std::string& query) {
  std::vector<std::string> names = species_names(catalogue);
  for (const auto& more : {size_names(catalogue), fastener_names(catalogue)})
    names.insert(names.end(), more.begin(), more.end());
  return nearest_name(query, names);
}

}  // namespace

int lumber_find(const std::string& query, const std::string& unit) {
  const Catalogue& catalogue = built_in_catalogue();
  const auto found = look_up(catalogue, query, unit == "mm" ? LengthUnit::mm : LengthUnit::inch);
  for (const Found& row : found) print(row);
  if (!found.empty()) return all_well;
  const auto near = nearest_in_catalogue(catalogue, query);
  fmt::print(stderr, "nothing in the tables is called `{}`{}\n", query,
             near.empty() ? "" : "; did you mean `" + near + "`?");
  return with_faults;
}

}  // namespace kw::cli
