// What the page asks for, read strictly from JSON (web/contract/openapi.yaml): exact types, ranges,
// no unknown and no doubled keys. Never more than 64 deep. Error of each: wire.bad-request, whose
// message begins with the JSON pointer (RFC 6901) to what is wrong.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/piece/change.h"
#include "kerfwright/store/store.h"

namespace kw {

struct EditRequest {
  std::int64_t base = 0;
  std::string group = {};
  std::vector<Change> what = {};
};
[[nodiscard]] Outcome<EditRequest> read_edits(std::string_view json);

// A size tried at another value: as typed, or a slider's place.
struct TrySize {
  std::string size = {};
  std::optional<std::string> typed = {};
  double at = 0;
};
struct TryRequest {
  std::int64_t base = 0;
  std::vector<TrySize> set = {};
};
[[nodiscard]] Outcome<TryRequest> read_try(std::string_view json);

[[nodiscard]] Outcome<std::int64_t> read_base(std::string_view json);

struct RestoreRequest {
  std::int64_t base = 0, revision = 0;
};
[[nodiscard]] Outcome<RestoreRequest> read_restore(std::string_view json);

struct SettleRequest {
  std::int64_t base = 0;
  bool takes_theirs = false;
};
[[nodiscard]] Outcome<SettleRequest> read_settle(std::string_view json);

enum class NewFrom : std::uint8_t { starter, nothing, text, copy };
struct NewPiece {
  std::string name = {};
  NewFrom from = NewFrom::nothing;
  std::string source = {};  // the starter, the text, or the piece copied
  std::string title = {};   // of nothing
  LengthUnit unit = LengthUnit::inch;
};
[[nodiscard]] Outcome<NewPiece> read_new_piece(std::string_view json);
[[nodiscard]] Outcome<std::string> read_new_name(std::string_view json);
// For the ticks of a piece's cuts, or of a batch's parts.
struct OpenBench {
  std::string piece = {};
  int batch = 0;  // 0: a piece
};
[[nodiscard]] Outcome<OpenBench> read_open_bench(std::string_view json);
// An object without keys.
[[nodiscard]] Diagnostics read_nothing(std::string_view json);
// Seconds for the sawing plan.
[[nodiscard]] Outcome<double> read_make_plan(std::string_view json);
[[nodiscard]] Outcome<std::vector<BenchTick>> read_ticks(std::string_view json);

// "garden-bench": letters, digits, _ and -, not first; at most 80.
[[nodiscard]] bool is_piece_name(std::string_view name);

}  // namespace kw
