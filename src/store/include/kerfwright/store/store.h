// Where the history of the pieces of one folder is kept: every revision of a piece's text, as what
// was changed, with the whole text every so often; and the ticks of the bench pages.
//
// Guarantees: what `append` or `keep_tick` said is kept, is on the disk (cabinet.h); a process
// killed or a power cut loses nothing of it. One process at a time holds a store that `open` gave.
// A file that is damaged is put aside under another name, never overwritten.
// Will not do: read the clock; the caller says when. May be used by several threads at once.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/piece/edit.h"
#include "kerfwright/store/cabinet.h"

namespace kw {

// Bytes [begin, begin + was.size()) of the text before became `now`.
struct Replaced {
  std::uint32_t begin = 0;
  std::string was = {};
  std::string now = {};
};
// In order; each counts in the text that the one before left.
using Delta = std::vector<Replaced>;

[[nodiscard]] Delta inverse_of(const Delta& delta);
// Nothing when the text does not hold what the delta says was there.
[[nodiscard]] std::optional<std::string> apply(const Delta& delta, std::string text);

enum class RevisionKind : std::uint8_t { first, edit, undo, redo, restore, outside };

struct Revision {
  std::int64_t number = 0;  // 1 is the first
  std::int64_t at = 0;      // milliseconds since 1970, UTC
  RevisionKind kind = RevisionKind::edit;
  std::string words = {};  // "set height to 30 1/2"
  std::string group = {};  // revisions in a row with the same group are one step of undo; "": alone
};

struct BenchTick {
  std::string id = {}, cut = {}, did = {}, words = {}, at = {};
};

class Store {
 public:
  explicit Store(Cabinet cabinet) : cabinet_(std::move(cabinet)) {}
  // In a cabinet of its own, which no other program may have open. Errors and warnings: those of
  // Cabinet::open.
  [[nodiscard]] static Outcome<Store> open(const Place& place);
  // For what else is kept beside it.
  [[nodiscard]] const Cabinet& cabinet() const { return cabinet_; }

  // The newest revision's number; nothing when the piece has no history yet.
  [[nodiscard]] std::optional<std::int64_t> newest(const std::string& piece) const;
  // The revision that the piece's own file was last known to hold.
  [[nodiscard]] std::int64_t saved(const std::string& piece) const;

  // Keeps `revision`, which must follow the newest, durably; `text` is what it leaves. Notes that
  // the file holds `saved`. The first revision's delta is not looked at. Error: store.cannot-keep.
  [[nodiscard]] Diagnostics append(const std::string& piece, const Revision& revision,
                                   const Delta& delta, const std::string& text, std::int64_t saved);
  [[nodiscard]] Diagnostics note_saved(const std::string& piece, std::int64_t saved);
  // Forgets the oldest revisions, but keeps the newest `least`, and those before them from which
  // their texts are put together (fewer than 64).
  [[nodiscard]] Diagnostics forget_oldest(const std::string& piece, std::int64_t least);

  // Newest first, those before `before` (0: all), at most `most`.
  [[nodiscard]] std::vector<Revision> revisions(const std::string& piece, std::int64_t before,
                                                int most) const;
  [[nodiscard]] std::optional<Delta> delta_of(const std::string& piece, std::int64_t number) const;
  // Errors: store.no-such-revision, store.broken-history (the deltas do not fit together).
  [[nodiscard]] Outcome<std::string> text_of(const std::string& piece, std::int64_t number) const;

  // The history goes with the piece's new name. What stood under `to` is dropped.
  [[nodiscard]] Diagnostics rename(const std::string& from, const std::string& to);

  // True when it was new; a tick with a known id changes nothing. Error: store.cannot-keep.
  [[nodiscard]] Outcome<bool> keep_tick(const std::string& piece, const BenchTick& tick);
  [[nodiscard]] std::vector<BenchTick> ticks(const std::string& piece) const;

 private:
  Cabinet cabinet_;
};

}  // namespace kw
