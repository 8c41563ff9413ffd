#include "kerfwright/wire/replies.h"

#include <algorithm>
#include <ctime>
#include <fmt/format.h>

#include "kerfwright/lumber/choose.h"

#include "joint_keys.h"
#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

std::string_view title_of(int status) {
  switch (status) {
    case 400:
      return "Bad request";
    case 403:
      return "Not allowed";
    case 404:
      return "Not found";
    case 405:
      return "Not done that way";
    case 408:
      return "Too slow";
    case 409:
      return "Not the newest revision";
    case 413:
      return "Too large";
    case 415:
      return "Not JSON";
    case 421:
      return "Not this server";
    case 422:
      return "Cannot be done";
    case 429:
      return "Too often";
    case 431:
      return "Headers too large";
    case 503:
      return "Busy";
    default:
      return "Something went wrong here";
  }
}

void write_ticks(JsonWriter& json, const std::vector<BenchTick>& ticks) {
  json.array();
  for (const BenchTick& tick : ticks) {
    json.object().key("id").text(tick.id).key("cut").text(tick.cut).key("did").text(tick.did);
    if (!tick.words.empty()) json.key("words").text(tick.words);
    json.key("at").text(tick.at).end();
  }
  json.end();
}

struct JointWords {
  std::string_view kind, words, boards;
};
constexpr std::array<JointWords, 14> joint_words = {{
    {"butt", "an end or edge set against a face, nothing cut", "2"},
    {"mitre", "two ends that share a corner", "2"},
    {"half-lap", "two boards that cross, half out of each", "2"},
    {"notch", "the first gives way to the second", "2"},
    {"housing", "the second's end sits in a trench across the first", "2"},
    {"rabbet", "the first gives way along its edge or end", "\"1 or 2\""},
    {"groove", "the first gives way to the second's edge", "\"1 or 2\""},
    {"bridle", "an open slot in the first, a tongue on the second", "2"},
    {"tenon", "the second's end goes into the first", "2"},
    {"dowel", "pins in both", "2"},
    {"pocket-screw", "screws at a slant, out of the second into the first", "2"},
    {"toe-nail", "nails at a slant, through the second's end into the first", "2"},
    {"screw", "screws from one into the other", "2"},
    {"glue", "faces glued", "2"},
}};

void write_joint_form(JsonWriter& json, const JointWords& joint) {
  json.object().key("kind").text(joint.kind).key("words").text(joint.words);
  json.key("boards").raw(joint.boards).key("fields").array();
  for (const JointKey& key : keys_of_joint(joint.kind)) {
    json.object().key("key").text(key.key).key("words").text(key.words);
    json.key("kind").text(key.kind).key("needed").truth(key.is_needed).key("choices");
    write_joint_choices(json, key.key);
    json.end();
  }
  json.end().end();
}

}  // namespace

std::string_view name_of(TaskState state) {
  constexpr std::array<std::string_view, 5> words = {"waiting", "running", "done", "cancelled",
                                                     "failed"};
  return words[static_cast<std::size_t>(state)];
}

std::string date_text(std::int64_t milliseconds) {
  const auto seconds = static_cast<std::time_t>(milliseconds / 1000);
  std::tm parts = {};
  ::gmtime_r(&seconds, &parts);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", parts.tm_year + 1900, parts.tm_mon + 1,
                     parts.tm_mday, parts.tm_hour, parts.tm_min, parts.tm_sec);
}

std::string problem_json(const Trouble& problem) {
  JsonWriter json;
  json.object().key("type").text("about:blank").key("title").text(title_of(problem.status));
  json.key("status").number(problem.status).key("code").text(problem.why.code);
  json.key("detail").text(problem.why.message).key("hint").text(problem.why.hint);
  if (problem.edit) json.key("edit").number(*problem.edit);
  if (problem.revision) json.key("revision").number(*problem.revision);
  json.end();
  return json.take();
}

std::string about_json(const std::string& version) {
  JsonWriter json;
  json.object().key("program").text("kerfwright").key("version").text(version);
  json.key("contract").number(1).end();
  return json.take();
}

std::string choices_json(const Catalogue& catalogue) {
  JsonWriter json;
  json.object().key("sections").array();
  for (const NominalSize& size : catalogue.sizes) write_choice(json, size.name, size.name);
  json.end().key("species").array();
  for (const Species& species : catalogue.species) write_choice(json, species.name, species.name);
  json.end().key("fasteners").array();
  for (const FastenerKind kind : kinds_by_rule)
    write_choice(json, name_of(kind), fmt::format("{}, chosen by rule", name_of(kind)));
  for (const Fastener& fastener : catalogue.fasteners)
    write_choice(json, fastener.name, fastener.name);
  json.end().key("glues").array();
  for (const Adhesive& glue : catalogue.adhesives)
    write_choice(json, glue.name, glue.use.empty() ? glue.name : glue.name + ": " + glue.use);
  json.end().key("joints").array();
  for (const JointWords& joint : joint_words) write_joint_form(json, joint);
  json.end().end();
  return json.take();
}

std::string shelf_json(const ShelfList& shelf) {
  JsonWriter json;
  json.object().key("folder").text(shelf.folder).key("pieces").array();
  for (const ShelfPiece& piece : shelf.pieces) {
    json.object().key("name").text(piece.name).key("title").text(piece.title);
    json.key("changed").text(date_text(piece.changed)).key("errors").number(piece.errors).end();
  }
  json.end().key("starters").array();
  for (const Starter& starter : shelf.starters) {
    json.object().key("name").text(starter.name).key("title").text(starter.title);
    json.key("words").text(starter.words).end();
  }
  json.end().key("binned").array();
  for (const Binned& binned : shelf.binned) json.raw(binned_json(binned));
  json.end().end();
  return json.take();
}

std::string named_json(const std::string& name) {
  JsonWriter json;
  json.object().key("name").text(name).end();
  return json.take();
}

std::string binned_json(const Binned& binned) {
  JsonWriter json;
  json.object().key("id").text(binned.id).key("name").text(binned.name);
  json.key("binned").text(date_text(binned.at)).end();
  return json.take();
}

std::string history_json(const std::vector<Revision>& revisions, std::int64_t current) {
  JsonWriter json;
  json.object().key("revisions").array();
  for (const Revision& revision : revisions) {
    json.object().key("revision").number(revision.number);
    json.key("at").text(date_text(revision.at)).key("words").text(revision.words);
    json.key("is_current").truth(revision.number == current).end();
  }
  json.end().end();
  return json.take();
}

std::string task_json(const TaskReport& report) {
  JsonWriter json;
  json.object().key("id").number(report.id).key("piece").text(report.piece);
  json.key("revision").number(report.revision).key("state").text(name_of(report.state));
  json.key("stage").text(report.stage).key("fraction");
  if (report.fraction)
    json.number(*report.fraction);
  else
    json.null();
  json.key("words").text(report.words).end();
  return json.take();
}

std::string bench_json(const BenchState& state) {
  JsonWriter json;
  json.object().key("is_open").truth(state.is_open);
  json.key("piece").text_or_null(state.piece).key("batch");
  if (state.batch)
    json.number(*state.batch);
  else
    json.null();
  json.key("address").text_or_null(state.address);
  json.key("code").text_or_null(state.code).key("expires").text_or_null(state.expires);
  json.key("qr").text_or_null(state.qr).key("paired").number(state.paired).end();
  return json.take();
}

std::string ticks_json(const std::vector<BenchTick>& ticks) {
  JsonWriter json;
  write_ticks(json, ticks);
  return json.take();
}

std::string ticks_kept_json(int kept, const std::vector<BenchTick>& ticks) {
  JsonWriter json;
  json.object().key("kept").number(kept).key("ticks");
  write_ticks(json, ticks);
  json.end();
  return json.take();
}

std::string revised_json(const std::string& piece, std::int64_t revision) {
  JsonWriter json;
  json.object().key("piece").text(piece).key("revision").number(revision).end();
  return json.take();
}

std::string outside_json(const std::string& piece) {
  JsonWriter json;
  json.object().key("piece").text(piece).end();
  return json.take();
}

std::string ticked_json(const std::string& piece, const std::vector<BenchTick>& ticks) {
  JsonWriter json;
  json.object().key("piece").text(piece).key("ticks");
  write_ticks(json, ticks);
  json.end();
  return json.take();
}

}  // namespace kw
