#include "kerfwright/store/store.h"

#include <algorithm>
#include <fmt/core.h>

#include "delta.h"
#include "held.h"

namespace kw {
using namespace storing;

namespace {

// A whole text every so many revisions: a text is got from at most that many deltas.
constexpr std::int64_t whole_every = 64;

constexpr const char* its_id = "(SELECT id FROM piece WHERE name = $1)";

std::int64_t id_of(Driver& driver, const std::string& piece) {
  Query query(driver, "SELECT id FROM piece WHERE name = $1");
  return query.bind(piece).step() ? query.number(0) : 0;
}

std::int64_t id_made(Driver& driver, const std::string& piece) {
  Query query(
      driver,
      "INSERT INTO piece (id, name) SELECT coalesce(max(id), 0) + 1, $1 FROM piece WHERE true "
      "ON CONFLICT (name) DO NOTHING");
  return query.bind(piece).run() ? id_of(driver, piece) : 0;
}

bool set_saved(Driver& driver, std::int64_t piece, std::int64_t saved) {
  Query query(driver, "UPDATE piece SET saved = $1 WHERE id = $2");
  return query.bind(saved).bind(piece).run();
}

bool insert(Driver& driver, std::int64_t piece, const Revision& r, const Delta& delta,
            const std::string& text) {
  Query query(driver, "INSERT INTO revision VALUES ($1, $2, $3, $4, $5, $6, $7, $8)");
  query.bind(piece).bind(r.number).bind(r.at).bind(static_cast<std::int64_t>(r.kind));
  query.bind(r.words).bind(r.group).bind_blob(packed(delta));
  if (r.number % whole_every == 1)
    query.bind_blob(text);
  else
    query.bind_null();
  return query.run();
}

bool drop(Driver& driver, std::int64_t piece) {
  for (const char* sql : {"DELETE FROM revision WHERE piece = $1",
                          "DELETE FROM tick WHERE piece = $1", "DELETE FROM piece WHERE id = $1"}) {
    if (!Query(driver, sql).bind(piece).run()) return false;
  }
  return true;
}

Verdict verdict_on(bool is_done) {
  return is_done ? Verdict::keep : Verdict::failed;
}

Diagnostic broken_history(const std::string& piece, std::int64_t number) {
  return {.code = "store.broken-history",
          .message = fmt::format("revision {} of `{}` cannot be put together", number, piece),
          .hint = "choose another revision"};
}

}  // namespace

Outcome<Store> Store::open(const Place& place) {
  auto cabinet = Cabinet::open(place, Hands::one);
  if (!cabinet) return cabinet.diagnostics();
  return {Store(*cabinet), cabinet.diagnostics()};
}

std::optional<std::int64_t> Store::newest(const std::string& piece) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              fmt::format("SELECT max(number) FROM revision WHERE piece = {}", its_id));
  if (!query.bind(piece).step() || query.is_null(0)) return std::nullopt;
  return query.number(0);
}

std::int64_t Store::saved(const std::string& piece) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver, "SELECT saved FROM piece WHERE name = $1");
  return query.bind(piece).step() ? query.number(0) : 0;
}

Diagnostics Store::append(const std::string& piece, const Revision& revision, const Delta& delta,
                          const std::string& text, std::int64_t saved) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  const Trouble trouble = transact(driver, [&] {
    const std::int64_t id = id_made(driver, piece);
    return verdict_on(id != 0 && insert(driver, id, revision, delta, text) &&
                      set_saved(driver, id, saved));
  });
  if (trouble != Trouble::none) return {cannot_keep(held)};
  return {};
}

Diagnostics Store::note_saved(const std::string& piece, std::int64_t saved) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  if (!set_saved(*held.driver, id_of(*held.driver, piece), saved)) return {cannot_keep(held)};
  return {};
}

Diagnostics Store::forget_oldest(const std::string& piece, std::int64_t least) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              fmt::format("DELETE FROM revision WHERE piece = {0} AND number < (SELECT max(number) "
                          "FROM revision WHERE whole IS NOT NULL AND piece = {0} AND number <= "
                          "(SELECT max(number) FROM revision WHERE piece = {0}) - $2 + 1)",
                          its_id));
  if (!query.bind(piece).bind(least).run()) return {cannot_keep(held)};
  return {};
}

std::vector<Revision> Store::revisions(const std::string& piece, std::int64_t before,
                                       int most) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              fmt::format("SELECT number, at, kind, words, joined FROM revision WHERE piece = {} "
                          "AND ($2 = 0 OR number < $2) ORDER BY number DESC LIMIT $3",
                          its_id));
  query.bind(piece).bind(before).bind(static_cast<std::int64_t>(most));
  std::vector<Revision> all;
  while (query.step()) {
    const auto kind = std::clamp<std::int64_t>(query.number(2), 0, 5);
    all.push_back({query.number(0), query.number(1), static_cast<RevisionKind>(kind),
                   query.bytes(3), query.bytes(4)});
  }
  return all;
}

std::optional<Delta> Store::delta_of(const std::string& piece, std::int64_t number) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              fmt::format("SELECT delta FROM revision WHERE piece = {} AND number = $2", its_id));
  if (!query.bind(piece).bind(number).step()) return std::nullopt;
  return unpacked(query.bytes(0));
}

Outcome<std::string> Store::text_of(const std::string& piece, std::int64_t number) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  // From the newest whole text there: what is older is not needed.
  Query query(*held.driver,
              fmt::format("SELECT number, delta, whole FROM revision WHERE piece = {0} AND number "
                          "<= $2 AND number >= (SELECT max(number) FROM revision WHERE piece = {0} "
                          "AND number <= $2 AND whole IS NOT NULL) ORDER BY number",
                          its_id));
  query.bind(piece).bind(number);
  std::optional<std::string> text;
  std::int64_t reached = 0;
  while (query.step()) {
    if (!text) {
      text = query.bytes(2);
    } else {
      const auto delta = unpacked(query.bytes(1));
      if (delta && query.number(0) == reached + 1)
        text = kw::apply(*delta, *std::move(text));
      else
        text.reset();
      if (!text) return broken_history(piece, number);
    }
    reached = query.number(0);
  }
  if (query.trouble() != Trouble::none) return cannot_read(held);
  if (!text || reached != number) {
    return Diagnostic{.code = "store.no-such-revision",
                      .message = fmt::format("`{}` has no revision {}", piece, number),
                      .hint = "choose one of the history"};
  }
  return *std::move(text);
}

Diagnostics Store::rename(const std::string& from, const std::string& to) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  const Trouble trouble = transact(driver, [&] {
    const std::int64_t there = id_of(driver, to);
    if (there != 0 && !drop(driver, there)) return Verdict::failed;
    Query query(driver, "UPDATE piece SET name = $1 WHERE name = $2");
    return verdict_on(query.bind(to).bind(from).run());
  });
  if (trouble != Trouble::none) return {cannot_keep(held)};
  return {};
}

Outcome<bool> Store::keep_tick(const std::string& piece, const BenchTick& tick) {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Driver& driver = *held.driver;
  bool is_new = false;
  const Trouble trouble = transact(driver, [&] {
    const std::int64_t id = id_made(driver, piece);
    Query query(driver,
                "INSERT INTO tick (piece, number, id, cut, did, words, at) SELECT $1, "
                "coalesce(max(number), 0) + 1, $2, $3, $4, $5, $6 FROM tick WHERE true "
                "ON CONFLICT (piece, id) DO NOTHING");
    query.bind(id).bind(tick.id).bind(tick.cut).bind(tick.did).bind(tick.words).bind(tick.at);
    const bool is_done = id != 0 && query.run();
    is_new = is_done && query.changed() > 0;
    return verdict_on(is_done);
  });
  if (trouble != Trouble::none) return cannot_keep(held);
  return is_new;
}

std::vector<BenchTick> Store::ticks(const std::string& piece) const {
  Cabinet::Held& held = cabinet_.held();
  const std::lock_guard lock(held.mutex);
  Query query(*held.driver,
              fmt::format("SELECT id, cut, did, words, at FROM tick WHERE piece = {} ORDER BY "
                          "number",
                          its_id));
  query.bind(piece);
  std::vector<BenchTick> all;
  while (query.step()) {
    all.push_back({query.bytes(0), query.bytes(1), query.bytes(2), query.bytes(3), query.bytes(4)});
  }
  return all;
}

}  // namespace kw
