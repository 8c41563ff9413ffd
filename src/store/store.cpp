#include "kerfwright/store/store.h"

#include <algorithm>
#include <fmt/core.h>

#include "held.h"

namespace kw {
using namespace storing;

namespace {

// A whole text every so many revisions: a text is got from at most that many deltas.
constexpr std::int64_t whole_every = 64;

void put(std::string& out, std::uint32_t value) {
  for (int i = 0; i < 4; ++i) out += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

void put(std::string& out, const std::string& bytes) {
  put(out, static_cast<std::uint32_t>(bytes.size()));
  out += bytes;
}

std::string packed(const Delta& delta) {
  std::string out;
  for (const Replaced& r : delta) {
    put(out, r.begin);
    put(out, r.was);
    put(out, r.now);
  }
  return out;
}

struct Unpacker {
  std::string_view bytes = {};
  bool is_good = true;

  std::uint32_t number() {
    if (bytes.size() < 4) {
      is_good = false;
      return 0;
    }
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i])) << (8 * i);
    }
    bytes.remove_prefix(4);
    return value;
  }
  std::string text() {
    const std::uint32_t size = number();
    if (size > bytes.size()) {
      is_good = false;
      return {};
    }
    std::string out(bytes.substr(0, size));
    bytes.remove_prefix(size);
    return out;
  }
};

std::optional<Delta> unpacked(std::string_view bytes) {
  Unpacker unpacker{bytes};
  Delta delta;
  while (!unpacker.bytes.empty() && unpacker.is_good) {
    Replaced r;
    r.begin = unpacker.number();
    r.was = unpacker.text();
    r.now = unpacker.text();
    delta.push_back(std::move(r));
  }
  if (!unpacker.is_good) return std::nullopt;
  return delta;
}

Diagnostic cannot_keep(const Store::Held& held) {
  return {.code = "store.cannot-keep",
          .message = fmt::format("the change cannot be kept in `{}`: {}", held.file.string(),
                                 sqlite3_errmsg(held.database.get())),
          .hint = "make room on the disk, or give yourself leave to write there, and do it again"};
}

std::int64_t id_of(sqlite3* database, const std::string& piece) {
  Query query(database, "SELECT id FROM piece WHERE name = ?");
  return query.bind(piece).step() ? query.number(0) : 0;
}

std::int64_t id_made(sqlite3* database, const std::string& piece) {
  Query(database, "INSERT OR IGNORE INTO piece (name) VALUES (?)").bind(piece).step();
  return id_of(database, piece);
}

bool set_saved(sqlite3* database, std::int64_t piece, std::int64_t saved) {
  Query query(database, "UPDATE piece SET saved = ? WHERE id = ?");
  query.bind(saved).bind(piece).step();
  return query.is_done();
}

bool insert(sqlite3* database, std::int64_t piece, const Revision& r, const Delta& delta,
            const std::string& text) {
  Query query(database, "INSERT INTO revision VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  query.bind(piece).bind(r.number).bind(r.at).bind(static_cast<std::int64_t>(r.kind));
  query.bind(r.words).bind(r.group).bind_blob(packed(delta));
  if (r.number % whole_every == 1)
    query.bind_blob(text);
  else
    query.bind_null();
  query.step();
  return query.is_done();
}

void drop(sqlite3* database, std::int64_t piece) {
  for (const char* sql : {"DELETE FROM revision WHERE piece = ?",
                          "DELETE FROM tick WHERE piece = ?", "DELETE FROM piece WHERE id = ?"}) {
    Query(database, sql).bind(piece).step();
  }
}

Diagnostic broken_history(const std::string& piece, std::int64_t number) {
  return {.code = "store.broken-history",
          .message = fmt::format("revision {} of `{}` cannot be put together", number, piece),
          .hint = "choose another revision"};
}

}  // namespace

Delta inverse_of(const Delta& delta) {
  Delta inverse;
  for (auto r = delta.rbegin(); r != delta.rend(); ++r)
    inverse.push_back({r->begin, r->now, r->was});
  return inverse;
}

std::optional<std::string> apply(const Delta& delta, std::string text) {
  for (const Replaced& r : delta) {
    if (r.begin > text.size() || text.compare(r.begin, r.was.size(), r.was) != 0)
      return std::nullopt;
    text.replace(r.begin, r.was.size(), r.now);
  }
  return text;
}

std::optional<std::int64_t> Store::newest(const std::string& piece) const {
  const std::lock_guard lock(held_->mutex);
  Query query(
      held_->database.get(),
      "SELECT max(number) FROM revision WHERE piece = (SELECT id FROM piece WHERE name = ?)");
  if (!query.bind(piece).step() || query.is_null(0)) return std::nullopt;
  return query.number(0);
}

std::int64_t Store::saved(const std::string& piece) const {
  const std::lock_guard lock(held_->mutex);
  Query query(held_->database.get(), "SELECT saved FROM piece WHERE name = ?");
  return query.bind(piece).step() ? query.number(0) : 0;
}

Diagnostics Store::append(const std::string& piece, const Revision& revision, const Delta& delta,
                          const std::string& text, std::int64_t saved) {
  const std::lock_guard lock(held_->mutex);
  sqlite3* database = held_->database.get();
  Transaction transaction(database);
  const std::int64_t id = id_made(database, piece);
  const bool is_kept = id != 0 && insert(database, id, revision, delta, text) &&
                       set_saved(database, id, saved) && transaction.commit();
  if (!is_kept) return {cannot_keep(*held_)};
  return {};
}

Diagnostics Store::note_saved(const std::string& piece, std::int64_t saved) {
  const std::lock_guard lock(held_->mutex);
  const std::int64_t id = id_of(held_->database.get(), piece);
  if (!set_saved(held_->database.get(), id, saved)) return {cannot_keep(*held_)};
  return {};
}

Diagnostics Store::forget_oldest(const std::string& piece, std::int64_t least) {
  const std::lock_guard lock(held_->mutex);
  Query query(
      held_->database.get(),
      "DELETE FROM revision WHERE piece = (SELECT id FROM piece WHERE name = ?1) AND number "
      "< (SELECT max(number) FROM revision WHERE whole IS NOT NULL AND piece = (SELECT id "
      "FROM piece WHERE name = ?1) AND number <= (SELECT max(number) FROM revision WHERE "
      "piece = (SELECT id FROM piece WHERE name = ?1)) - ?2 + 1)");
  query.bind(piece).bind(least).step();
  if (!query.is_done()) return {cannot_keep(*held_)};
  return {};
}

std::vector<Revision> Store::revisions(const std::string& piece, std::int64_t before,
                                       int most) const {
  const std::lock_guard lock(held_->mutex);
  Query query(held_->database.get(),
              "SELECT number, at, kind, words, joined FROM revision WHERE piece = (SELECT id FROM "
              "piece WHERE name = ?) AND (? = 0 OR number < ?) ORDER BY number DESC LIMIT ?");
  query.bind(piece).bind(before).bind(before).bind(static_cast<std::int64_t>(most));
  std::vector<Revision> all;
  while (query.step()) {
    const auto kind = std::clamp<std::int64_t>(query.number(2), 0, 5);
    all.push_back({query.number(0), query.number(1), static_cast<RevisionKind>(kind),
                   query.bytes(3), query.bytes(4)});
  }
  return all;
}

std::optional<Delta> Store::delta_of(const std::string& piece, std::int64_t number) const {
  const std::lock_guard lock(held_->mutex);
  Query query(held_->database.get(),
              "SELECT delta FROM revision WHERE piece = (SELECT id FROM piece WHERE name = ?) AND "
              "number = ?");
  if (!query.bind(piece).bind(number).step()) return std::nullopt;
  return unpacked(query.bytes(0));
}

Outcome<std::string> Store::text_of(const std::string& piece, std::int64_t number) const {
  const std::lock_guard lock(held_->mutex);
  Query query(held_->database.get(),
              "SELECT number, delta, whole FROM revision WHERE piece = (SELECT id FROM piece WHERE "
              "name = ?) AND number <= ? ORDER BY number DESC LIMIT ?");
  query.bind(piece).bind(number).bind(whole_every + 1);
  std::vector<Delta> deltas;
  std::optional<std::string> text;
  for (std::int64_t wanted = number; !text && query.step(); --wanted) {
    if (query.number(0) != wanted) break;
    if (!query.is_null(2)) {
      text = query.bytes(2);
      break;
    }
    auto delta = unpacked(query.bytes(1));
    if (!delta) return broken_history(piece, number);
    deltas.push_back(*std::move(delta));
  }
  if (!text) {
    return Diagnostic{.code = "store.no-such-revision",
                      .message = fmt::format("`{}` has no revision {}", piece, number),
                      .hint = "choose one of the history"};
  }
  for (auto delta = deltas.rbegin(); text && delta != deltas.rend(); ++delta)
    text = kw::apply(*delta, *std::move(text));
  if (!text) return broken_history(piece, number);
  return *std::move(text);
}

Diagnostics Store::rename(const std::string& from, const std::string& to) {
  const std::lock_guard lock(held_->mutex);
  sqlite3* database = held_->database.get();
  Transaction transaction(database);
  const std::int64_t there = id_of(database, to);
  if (there != 0) drop(database, there);
  Query query(database, "UPDATE piece SET name = ? WHERE name = ?");
  query.bind(to).bind(from).step();
  if (!query.is_done() || !transaction.commit()) return {cannot_keep(*held_)};
  return {};
}

Outcome<bool> Store::keep_tick(const std::string& piece, const BenchTick& tick) {
  const std::lock_guard lock(held_->mutex);
  sqlite3* database = held_->database.get();
  const std::int64_t id = id_made(database, piece);
  Query query(
      database,
      "INSERT OR IGNORE INTO tick (piece, id, cut, did, words, at) VALUES (?, ?, ?, ?, ?, ?)");
  query.bind(id).bind(tick.id).bind(tick.cut).bind(tick.did).bind(tick.words).bind(tick.at).step();
  if (id == 0 || !query.is_done()) return cannot_keep(*held_);
  return sqlite3_changes(database) > 0;
}

std::vector<BenchTick> Store::ticks(const std::string& piece) const {
  const std::lock_guard lock(held_->mutex);
  Query query(held_->database.get(),
              "SELECT id, cut, did, words, at FROM tick WHERE piece = (SELECT id FROM piece WHERE "
              "name = ?) ORDER BY number");
  query.bind(piece);
  std::vector<BenchTick> all;
  while (query.step()) {
    all.push_back({query.bytes(0), query.bytes(1), query.bytes(2), query.bytes(3), query.bytes(4)});
  }
  return all;
}

}  // namespace kw
