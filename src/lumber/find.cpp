#include <algorithm>

#include "kerfwright/lumber/catalogue.h"

#include "names.h"

namespace kw {
namespace {

template <class T>
const T* find_row(const std::vector<T>& rows, std::string_view name) {
  const std::string key = lumber::key_of(name);
  if (key.empty()) return nullptr;
  const auto is_named = [&](const std::string& other) { return lumber::key_of(other) == key; };
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const T& row) {
    return is_named(row.name) || std::any_of(row.aka.begin(), row.aka.end(), is_named);
  });
  return found == rows.end() ? nullptr : &*found;
}

template <class T>
std::vector<std::string> names_in(const std::vector<T>& rows) {
  std::vector<std::string> names;
  for (const T& row : rows) {
    names.push_back(row.name);
    names.insert(names.end(), row.aka.begin(), row.aka.end());
  }
  return names;
}

}  // namespace

const NominalSize* find_size(const Catalogue& catalogue, std::string_view name) {
  return find_row(catalogue.sizes, name);
}

const Species* find_species(const Catalogue& catalogue, std::string_view name) {
  return find_row(catalogue.species, name);
}

const Fastener* find_fastener(const Catalogue& catalogue, std::string_view name) {
  return find_row(catalogue.fasteners, name);
}

const Adhesive* find_adhesive(const Catalogue& catalogue, std::string_view name) {
  return find_row(catalogue.adhesives, name);
}

const Finish* find_finish(const Catalogue& catalogue, std::string_view name) {
  return find_row(catalogue.finishes, name);
}

std::vector<std::string> size_names(const Catalogue& catalogue) {
  return names_in(catalogue.sizes);
}

std::vector<std::string> species_names(const Catalogue& catalogue) {
  return names_in(catalogue.species);
}

std::vector<std::string> fastener_names(const Catalogue& catalogue) {
  return names_in(catalogue.fasteners);
}

}  // namespace kw
