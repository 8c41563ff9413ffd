// The smaller replies of the server as JSON (web/contract/openapi.yaml).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"
#include "kerfwright/store/shelf.h"
#include "kerfwright/store/store.h"
#include "kerfwright/wire/view_json.h"

namespace kw {

// RFC 9457.
struct Trouble {
  int status = 500;
  Diagnostic why = {};
  std::optional<int> edit = {};               // which of several cannot be done
  std::optional<std::int64_t> revision = {};  // the newest, with 409
};
[[nodiscard]] std::string problem_json(const Trouble& problem);

[[nodiscard]] std::string about_json(const std::string& version);
[[nodiscard]] std::string choices_json(const Catalogue& catalogue);

[[nodiscard]] std::string shelf_json(const ShelfList& shelf);
[[nodiscard]] std::string named_json(const std::string& name);
[[nodiscard]] std::string binned_json(const Binned& binned);
[[nodiscard]] std::string history_json(const std::vector<Revision>& revisions,
                                       std::int64_t current);

// Work that takes its time.
enum class TaskState : std::uint8_t { waiting, running, done, cancelled, failed };
[[nodiscard]] std::string_view name_of(TaskState state);
struct TaskReport {
  std::int64_t id = 0;
  std::string piece = {};
  std::int64_t revision = 0;
  TaskState state = TaskState::waiting;
  std::string stage = {};
  std::optional<double> fraction = {};
  std::string words = {};
};
[[nodiscard]] std::string task_json(const TaskReport& report);

// The plan of a revision. `text` is what its diagnostics' places are in.
struct PlanReply {
  std::int64_t revision = 0;
  bool is_current = false;
  PlanData data = {};
  const Text* text = nullptr;
  Diagnostics diagnostics = {};
  std::vector<std::string> files = {};
};
[[nodiscard]] std::string plan_json(const PlanReply& plan);

// The order of assembly in words and pictures. `data` needs the assembly.
[[nodiscard]] std::string steps_json(std::int64_t revision, const PlanData& data);
[[nodiscard]] std::string findings_json(std::int64_t revision, const Resolved& piece,
                                        const std::vector<Finding>& findings);

[[nodiscard]] std::string card_json(const ViewData& data, const std::string& piece_name,
                                    std::size_t body);

struct BenchState {
  bool is_open = false;
  std::optional<std::string> piece = {}, address = {}, code = {}, expires = {}, qr = {};
  std::optional<int> batch = {};
  int paired = 0;
};
[[nodiscard]] std::string bench_json(const BenchState& state);
// What a bench page holds. `data` needs set-ups.
[[nodiscard]] std::string bench_data_json(const std::string& piece, std::int64_t revision,
                                          const std::string& token, const PlanData& data,
                                          const std::vector<BenchTick>& ticks);
[[nodiscard]] std::string ticks_json(const std::vector<BenchTick>& ticks);
[[nodiscard]] std::string ticks_kept_json(int kept, const std::vector<BenchTick>& ticks);

// Of the event stream.
[[nodiscard]] std::string revised_json(const std::string& piece, std::int64_t revision);
[[nodiscard]] std::string outside_json(const std::string& piece);
[[nodiscard]] std::string ticked_json(const std::string& piece,
                                      const std::vector<BenchTick>& ticks);

// "2026-03-01T09:30:00Z" of milliseconds since 1970, UTC.
[[nodiscard]] std::string date_text(std::int64_t milliseconds);

}  // namespace kw
