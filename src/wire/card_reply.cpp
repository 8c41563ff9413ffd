// A board's card as JSON: its values and those of its joints, to be changed one by one.
#include <algorithm>
#include <fmt/format.h>
#include <set>

#include "kerfwright/piece/keys.h"
#include "kerfwright/wire/replies.h"

#include "joint_keys.h"
#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

// The keys of a board that its card shows, in the order of docs/piece-file.md.
struct CardKey {
  std::string_view key, words, kind;
};
constexpr std::array<CardKey, 14> card_keys = {{{"stock", "stock", "name"},
                                                {"runs", "from, to", "point"},
                                                {"at", "starts at", "point"},
                                                {"along", "goes along", "direction"},
                                                {"length", "length", "length"},
                                                {"strips", "boards edge to edge", "number"},
                                                {"width", "width", "length"},
                                                {"face", "broad face looks", "direction"},
                                                {"hold", "held at", "choice"},
                                                {"shift", "moved: across, through", "point"},
                                                {"start", "start is cut", "end"},
                                                {"end", "end is cut", "end"},
                                                {"show", "side that shows", "choice"},
                                                {"note", "note", "text"}}};

std::string without_quotes(std::string toml) {
  const bool has = toml.size() >= 2 && (toml.front() == '"' || toml.front() == '\'') &&
                   toml.back() == toml.front();
  return has ? toml.substr(1, toml.size() - 2) : toml;
}

// All of a field but its choices, which are to follow.
void begin_field(JsonWriter& json, const ViewData& data, const std::vector<std::string>& table,
                 const CardKey& card) {
  auto path = table;
  path.emplace_back(card.key);
  const auto there = find_value(*data.values_text, path);
  json.object().key("path");
  write_path(json, path);
  json.key("words").text(card.words).key("kind").text(card.kind);
  json.key("value").text(there ? without_quotes(typed(*data.values_text, *there)) : "");
  json.key("is_set").truth(static_cast<bool>(there)).key("choices");
}

void write_choices(JsonWriter& json, const ViewData& data, std::string_view key) {
  json.array();
  const auto choice = [&](std::string_view value) { write_choice(json, value, value); };
  if (key == "stock")
    for (const StockDecl& stock : data.document->stocks) choice(stock.name.text);
  if (key == "along" || key == "face")
    for (const char* word : {"up", "down", "left", "right", "front", "back"}) choice(word);
  if (key == "show")
    for (const char* word : {"+z", "-z", "+y", "-y"}) choice(word);
  if (key == "start" || key == "end") {
    choice("square");
    choice("floor");
    for (const PlaneDecl& plane : data.document->top.planes) choice(plane.name.text);
  }
  json.end();
}

void write_fields(JsonWriter& json, const ViewData& data, const std::vector<std::string>& table) {
  json.array();
  const bool is_panel = table.size() > 1 && table[table.size() - 2] == "panel";
  for (const KeyTable& keys : piece_keys()) {
    if (keys.name != (is_panel ? "panel" : "board")) continue;
    for (const CardKey& card : card_keys) {
      const bool is_known = std::any_of(keys.keys.begin(), keys.keys.end(),
                                        [&](const KeyFact& fact) { return fact.name == card.key; });
      if (!is_known) continue;
      begin_field(json, data, table, card);
      write_choices(json, data, card.key);
      json.end();
    }
  }
  json.end();
}

// Of each [joint] that joins the board.
void write_joint_fields(JsonWriter& json, const ViewData& data, int board) {
  std::set<std::vector<std::string>> told;
  json.array();
  for (const ResolvedJoint& joint : data.piece->joints) {
    if (joint.a != board && joint.b != board) continue;
    const auto path = path_of_joint(data, joint);
    if (path.empty() || !told.insert(path).second) continue;
    json.object().key("path");
    write_path(json, path);
    json.key("fields").array();
    for (const JointKey& key : keys_of_joint(name_of(joint.kind))) {
      begin_field(json, data, path, {key.key, key.words, key.kind});
      write_joint_choices(json, key.key);
      json.end();
    }
    json.end().end();
  }
  json.end();
}

}  // namespace

std::string card_json(const ViewData& data, const std::string& piece_name, std::size_t body) {
  const Body& shown = (*data.bodies)[body];
  const ResolvedBoard& board = at(data.piece->boards, shown.board);
  const Part& part = at(data.cut_list->parts, at(data.cut_list->part_of_body, body));
  const auto path = path_of_board(data, board);
  JsonWriter json;
  json.object().key("board").text(board.id).key("path");
  write_path(json, path);
  json.key("part").text(part.letter);
  json.key("words").text(board.id == board.made_from
                             ? board.id
                             : fmt::format("{}: a copy of {}{}", board.id, board.made_from,
                                           board.is_mirrored ? ", mirrored" : ""));
  json.key("fields");
  write_fields(json, data, path);
  json.key("joints").array();
  for (const ResolvedJoint& joint : data.piece->joints)
    if (joint.a == shown.board || joint.b == shown.board) write_joint(json, data, joint);
  json.end().key("joint_fields");
  write_joint_fields(json, data, shown.board);
  json.key("marks").texts(marks_of(part, data.piece->unit));
  json.key("saw").array();
  json.text("hook end: " + end_words(part, 0)).text("far end: " + end_words(part, 1)).end();
  json.key("sheet").text(fmt::format("/api/pieces/{}/part/{}.svg", piece_name, part.letter)).end();
  return json.take();
}

}  // namespace kw
