// Pieces that a seller of plans offers to be fitted to a buyer's size: the text, which sizes may be
// changed and how far, and the terms. Each publishing is a version of its own and is never changed.
//
// Guarantees: what `publish` said is kept, is on the disk. Will not do: read the piece's text; who
// publishes has checked it.
// Bounds: names of 1 to 200 bytes, texts and terms of 1 MB, 100 sizes.
#pragma once

#include <optional>
#include <vector>

#include "kerfwright/store/cabinet.h"

namespace kw {

// As a length is written ("36 1/2", "900 mm"), in the piece's unit where it is bare.
struct AllowedSize {
  std::string size = {}, least = {}, most = {};
  friend bool operator==(const AllowedSize&, const AllowedSize&) = default;
};

struct PublishedPiece {
  std::string name = {};
  std::int64_t version = 0;  // given by `publish`: 1, 2, 3
  std::int64_t at = 0;       // milliseconds since 1970, UTC
  std::string title = {}, text = {}, terms = {};
  std::vector<AllowedSize> sizes = {};  // in this order
  bool is_offered = true;
  friend bool operator==(const PublishedPiece&, const PublishedPiece&) = default;
};

class Published {
 public:
  explicit Published(Cabinet cabinet) : cabinet_(std::move(cabinet)) {}

  // The number of the version. Errors: store.too-large, store.cannot-keep.
  [[nodiscard]] Outcome<std::int64_t> publish(const PublishedPiece& piece);
  // No version of it is offered any more, until it is published anew. False: none was.
  [[nodiscard]] Outcome<bool> withdraw(const std::string& name);
  // The newest that is offered; nothing when there is none. Error: store.cannot-read.
  [[nodiscard]] Outcome<std::optional<PublishedPiece>> find(const std::string& name) const;
  // A version, offered or not: for work that was begun with it.
  [[nodiscard]] Outcome<std::optional<PublishedPiece>> find(const std::string& name,
                                                            std::int64_t version) const;
  // The newest offered of each name, by name, without texts, terms and sizes; 10,000 at most.
  [[nodiscard]] Outcome<std::vector<PublishedPiece>> list() const;

 private:
  Cabinet cabinet_;
};

}  // namespace kw
