// Where scopes stand: the piece itself, and each assembly in each of its uses.
#pragma once

#include <deque>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/piece/resolved.h"

#include "names.h"

namespace kw::resolving {

// What is worked out, and by which tables.
struct Given {
  const Document& document;
  const Catalogue& catalogue;
  const std::vector<Override>& overrides;
  const DocumentNames& names;
};

struct Site {
  int scope = 0;                 // its number (names.h)
  int parent = -1;               // the site of the use
  const UseDecl* use = nullptr;  // null: the piece, or an assembly looked at by itself
  int depth = 0;
};

class Sites {
 public:
  explicit Sites(const Given& given) : given_(given) { sites_.push_back({}); }

  // The piece is site 0.
  int open(const Site& site) {
    sites_.push_back(site);
    return size() - 1;
  }
  [[nodiscard]] int size() const { return static_cast<int>(sites_.size()); }
  [[nodiscard]] const Site& operator[](int site) const {
    return sites_[static_cast<std::size_t>(site)];
  }
  [[nodiscard]] const Scope& scope(int site) const {
    return scope_of(given_.document, (*this)[site].scope);
  }
  [[nodiscard]] const ScopeNames& names(int site) const {
    return given_.names.scopes[static_cast<std::size_t>((*this)[site].scope)];
  }
  [[nodiscard]] const Given& given() const { return given_; }

 private:
  Given given_;
  std::deque<Site> sites_ = {};
};

}  // namespace kw::resolving
