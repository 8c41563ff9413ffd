#include "kerfwright/store/published.h"

#include <algorithm>
#include <fmt/core.h>

#include "held.h"

namespace kw {
using namespace storing;

namespace {

constexpr std::size_t most_of_name = 200, most_of_text = 1'000'000, most_sizes = 100;

Diagnostic too_large(std::string words) {
  return {.code = "store.too-large",
          .message = std::move(words),
          .hint = "names of 200 bytes, a text and terms of 1 MB and 100 sizes can be published"};
}

Diagnostics faults_of(const PublishedPiece& piece) {
  const auto is_name = [](const std::string& name) {
    return !name.empty() && name.size() <= most_of_name;
  };
  if (!is_name(piece.name) || piece.title.size() > most_of_name)
    return {too_large("the name or title of what is published is empty or too long")};
  if (std::max(piece.text.size(), piece.terms.size()) > most_of_text)
    return {too_large(fmt::format("a text of {} bytes and terms of {} to be published",
                                  piece.text.size(), piece.terms.size()))};
  const bool are_sizes =
      std::all_of(piece.sizes.begin(), piece.sizes.end(), [&is_name](const AllowedSize& s) {
        return is_name(s.size) && s.least.size() <= most_of_name && s.most.size() <= most_of_name;
      });
  if (!are_sizes || piece.sizes.size() > most_sizes)
    return {too_large(fmt::format("{} sizes to be published", piece.sizes.size()))};
  return {};
}

bool insert(Driver& driver, const PublishedPiece& piece, std::int64_t version) {
  Query query(driver,
              "INSERT INTO published (name, version, at, title, text, terms, offered) VALUES ($1, "
              "$2, $3, $4, $5, $6, $7)");
  query.bind(piece.name).bind(version).bind(piece.at).bind(piece.title).bind_blob(piece.text);
  query.bind_blob(piece.terms).bind(std::int64_t{piece.is_offered});
  if (!query.run()) return false;
  std::int64_t place = 0;
  for (const AllowedSize& allowed : piece.sizes) {
    Query size(driver,
               "INSERT INTO published_size (name, version, place, size, least, most) VALUES ($1, "
               "$2, $3, $4, $5, $6)");
    size.bind(piece.name).bind(version).bind(++place).bind(allowed.size);
    if (!size.bind(allowed.least).bind(allowed.most).run()) return false;
  }
  return true;
}

// The piece of `row`, with its sizes.
std::optional<PublishedPiece> piece_of(Driver& driver, const Query& row) {
  PublishedPiece piece{row.bytes(0), row.number(1),     row.number(2),
                       row.bytes(3), row.bytes(4),      row.bytes(5),
                       {},           row.number(6) == 1};
  Query sizes(driver,
              "SELECT size, least, most FROM published_size WHERE name = $1 AND version = $2 "
              "ORDER BY place");
  sizes.bind(piece.name).bind(piece.version);
  while (sizes.step()) piece.sizes.push_back({sizes.bytes(0), sizes.bytes(1), sizes.bytes(2)});
  if (sizes.trouble() != Trouble::none) return std::nullopt;
  return piece;
}

Outcome<std::optional<PublishedPiece>> found(const Cabinet::Held& held, Query& query) {
  const bool is_there = query.step();
  if (query.trouble() != Trouble::none) return cannot_read(held);
  if (!is_there) return std::optional<PublishedPiece>();
  auto piece = piece_of(*held.driver, query);
  if (!piece) return cannot_read(held);
  return piece;
}

}  // namespace

Outcome<std::int64_t> Published::publish(const PublishedPiece& piece) {
  const Diagnostics faults = faults_of(piece);
  if (!faults.empty()) return faults;
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  std::int64_t version = 0;
  const Trouble trouble = transact(driver, [&] {
    Query newest(driver, "SELECT coalesce(max(version), 0) FROM published WHERE name = $1");
    if (!newest.bind(piece.name).step()) return Verdict::failed;
    version = newest.number(0) + 1;
    return insert(driver, piece, version) ? Verdict::keep : Verdict::failed;
  });
  if (trouble != Trouble::none) return cannot_keep(held);
  return version;
}

Outcome<bool> Published::withdraw(const std::string& name) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver, "UPDATE published SET offered = 0 WHERE name = $1 AND offered = 1");
  if (!query.bind(name).run()) return cannot_keep(held);
  return query.changed() > 0;
}

Outcome<std::optional<PublishedPiece>> Published::find(const std::string& name) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(
      *held.driver,
      "SELECT name, version, at, title, text, terms, offered FROM published WHERE name = $1 "
      "AND offered = 1 ORDER BY version DESC LIMIT 1");
  return found(held, query.bind(name));
}

Outcome<std::optional<PublishedPiece>> Published::find(const std::string& name,
                                                       std::int64_t version) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(
      *held.driver,
      "SELECT name, version, at, title, text, terms, offered FROM published WHERE name = $1 "
      "AND version = $2");
  return found(held, query.bind(name).bind(version));
}

Outcome<std::vector<PublishedPiece>> Published::list() const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              "SELECT name, version, at, title FROM published AS p WHERE offered = 1 AND version = "
              "(SELECT max(version) FROM published WHERE name = p.name AND offered = 1) ORDER BY "
              "name LIMIT 10000");
  std::vector<PublishedPiece> all;
  while (query.step())
    all.push_back({query.bytes(0), query.number(1), query.number(2), query.bytes(3)});
  if (query.trouble() != Trouble::none) return cannot_read(held);
  return all;
}

}  // namespace kw
