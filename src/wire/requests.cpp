#include "kerfwright/wire/requests.h"

#include "read_request.h"

namespace kw {
using namespace wire;

namespace {

constexpr std::int64_t highest_revision = 9007199254740991;
constexpr std::size_t most_typed = 1000;

std::int64_t revision_of(const Asked& asked) {
  return asked.whole(0, highest_revision);
}

KeyPath path_of(const Asked& asked) {
  KeyPath path;
  for (const Asked& part : asked.items(1, 16)) path.push_back(part.text(200));
  return path;
}

std::string typed_of(const Asked& asked) {
  return asked.text(most_typed);
}

std::vector<std::string> list_of(const Asked& asked, std::size_t least, std::size_t most) {
  std::vector<std::string> all;
  for (const Asked& item : asked.items(least, most)) all.push_back(typed_of(item));
  return all;
}

std::array<std::string, 3> three_of(const Asked& asked) {
  auto all = list_of(asked, 3, 3);
  all.resize(3);
  return {all[0], all[1], all[2]};
}

std::string optional_text(const Asked& asked, std::string_view key) {
  return asked.has(key) ? typed_of(asked.at(key)) : "";
}

Pointed pointed_of(const Asked& asked) {
  asked.only({"world"}, {"board", "face"});
  Pointed pointed;
  const auto three = asked.at("world").items(3, 3);
  if (three.size() == 3)
    pointed.world = {three[0].number(-1e7, 1e7), three[1].number(-1e7, 1e7),
                     three[2].number(-1e7, 1e7)};
  if (asked.has("board")) pointed.board = asked.at("board").text(200);
  if (asked.has("face")) pointed.face = static_cast<int>(asked.at("face").whole(0, 1'000'000));
  return pointed;
}

PlaceWish place_of(const Asked& asked) {
  if (asked.has("point")) {
    asked.only({"point"});
    return AtPoint{asked.at("point").text(80, 1)};
  }
  if (asked.has("at")) {
    asked.only({"at"});
    return AtFormulas{three_of(asked.at("at"))};
  }
  asked.only({"pointed"});
  return pointed_of(asked.at("pointed"));
}

DirectionWish direction_of(const Asked& asked) {
  if (asked.is_text()) return asked.text(40);
  if (asked.is_list()) return three_of(asked);
  asked.only({"from", "to"});
  return FromTo{asked.at("from").text(80, 1), asked.at("to").text(80, 1)};
}

EndWish end_of(const Asked& asked) {
  asked.only({}, {"plane", "against", "face", "mitre-with", "mitre", "bevel", "add"});
  EndWish end;
  for (const char* key : {"plane", "against", "face", "mitre-with", "mitre", "bevel", "add"})
    if (asked.has(key)) end.keys.emplace_back(key, typed_of(asked.at(key)));
  return end;
}

ValueWish value_of(const Asked& asked) {
  if (asked.is_truth()) return asked.truth();
  if (asked.is_list()) return list_of(asked, 0, 200);
  if (asked.is_object()) return end_of(asked);
  return typed_of(asked);
}

Change add_stock_of(const Asked& asked) {
  asked.only({"kind", "section"}, {"id", "species", "rip", "sheet"});
  const Asked section = asked.at("section");
  return AddStock{
      optional_text(asked, "id"),
      section.is_list() ? list_of(section, 2, 2) : std::vector<std::string>{typed_of(section)},
      optional_text(asked, "species"), optional_text(asked, "rip"), optional_text(asked, "sheet")};
}

Change add_size_of(const Asked& asked) {
  asked.only({"kind", "id", "is"}, {"from", "to", "step", "note"});
  return AddSize{typed_of(asked.at("id")),     typed_of(asked.at("is")),
                 optional_text(asked, "from"), optional_text(asked, "to"),
                 optional_text(asked, "step"), optional_text(asked, "note")};
}

Change add_board_of(const Asked& asked) {
  asked.only({"kind", "stock", "from"},
             {"id", "to", "along", "length", "face", "hold", "shift", "start", "end"});
  AddBoard board{.id = optional_text(asked, "id"),
                 .stock = typed_of(asked.at("stock")),
                 .from = place_of(asked.at("from"))};
  if (asked.has("to")) board.to = place_of(asked.at("to"));
  if (asked.has("along")) board.along = direction_of(asked.at("along"));
  if (asked.has("face")) board.face = direction_of(asked.at("face"));
  board.length = optional_text(asked, "length");
  if (asked.has("hold"))
    for (const Asked& word : asked.at("hold").items(2, 2))
      board.hold.push_back(word.one_of({"low", "middle", "high"}));
  if (asked.has("shift")) board.shift = list_of(asked.at("shift"), 2, 2);
  if (asked.has("start")) board.start = end_of(asked.at("start"));
  if (asked.has("end")) board.end = end_of(asked.at("end"));
  return board;
}

Change add_joint_of(const Asked& asked) {
  asked.only({"kind", "joint", "boards"}, {"id", "keys"});
  AddJoint joint{.id = optional_text(asked, "id")};
  joint.kind = asked.at("joint").one_of({"butt", "mitre", "half-lap", "notch", "housing", "rabbet",
                                         "groove", "bridle", "tenon", "dowel", "pocket-screw",
                                         "toe-nail", "screw", "glue"});
  joint.boards = list_of(asked.at("boards"), 1, 2);
  if (asked.has("keys"))
    for (const auto& [key, value] : asked.at("keys").members(30))
      joint.keys.emplace_back(key, typed_of(value));
  return joint;
}

Change copy_of(const Asked& asked) {
  asked.only({"kind", "how", "boards"},
             {"id", "across", "count", "step", "about", "at", "angle", "names", "joints"});
  AddCopy copy{.id = optional_text(asked, "id"),
               .how = asked.at("how").one_of({"mirror", "repeat", "turn"})};
  copy.boards = list_of(asked.at("boards"), 1, 200);
  copy.across = optional_text(asked, "across");
  copy.count = optional_text(asked, "count");
  copy.angle = optional_text(asked, "angle");
  if (asked.has("step")) copy.step = list_of(asked.at("step"), 3, 3);
  if (asked.has("names")) copy.names = list_of(asked.at("names"), 0, 2000);
  if (asked.has("about")) copy.about = direction_of(asked.at("about"));
  if (asked.has("at")) copy.at = place_of(asked.at("at"));
  if (asked.has("joints")) copy.joints = asked.at("joints").truth();
  return copy;
}

Change splice_of(const Asked& asked) {
  asked.only({"kind", "from", "to", "with"});
  return SpliceText{static_cast<std::uint32_t>(asked.at("from").whole(0, 1'000'000)),
                    static_cast<std::uint32_t>(asked.at("to").whole(0, 1'000'000)),
                    asked.at("with").text(1'000'000)};
}

Change path_edit_of(const Asked& asked, const std::string& kind) {
  asked.only({"kind", "path"}, {"with_needing"});
  const bool with_needing = asked.has("with_needing") && asked.at("with_needing").truth();
  if (kind == "unset") return UnsetPath{path_of(asked.at("path"))};
  return RemoveTable{path_of(asked.at("path")), with_needing};
}

Change change_of(const Asked& asked) {
  const std::string kind =
      asked.at("kind").one_of({"splice", "set", "slide", "unset", "remove", "rename", "add_stock",
                               "add_size", "add_point", "add_board", "add_joint", "copy"});
  if (kind == "splice") return splice_of(asked);
  if (kind == "unset" || kind == "remove") return path_edit_of(asked, kind);
  if (kind == "add_stock") return add_stock_of(asked);
  if (kind == "add_size") return add_size_of(asked);
  if (kind == "add_board") return add_board_of(asked);
  if (kind == "add_joint") return add_joint_of(asked);
  if (kind == "copy") return copy_of(asked);
  if (kind == "set") {
    asked.only({"kind", "path", "value"});
    return SetPath{path_of(asked.at("path")), value_of(asked.at("value"))};
  }
  if (kind == "slide") {
    asked.only({"kind", "size", "at"});
    return SlideSize{asked.at("size").text(80, 1), asked.at("at").number(-1e9, 1e9)};
  }
  if (kind == "rename") {
    asked.only({"kind", "path", "to"});
    return RenameTable{path_of(asked.at("path")), asked.at("to").text(80, 1)};
  }
  asked.only({"kind", "id", "at"});
  return AddPoint{asked.at("id").text(80, 1), place_of(asked.at("at"))};
}

std::string piece_name_of(const Asked& asked) {
  std::string name = asked.text(80, 1);
  if (!is_piece_name(name))
    asked.refuse("must be letters, digits, _ and -, beginning with neither sign");
  return name;
}

TrySize try_size_of(const Asked& asked) {
  asked.only({"size"}, {"value", "at"});
  TrySize wish{.size = asked.at("size").text(80, 1)};
  if (asked.has("value") == asked.has("at")) asked.refuse("must have either `value` or `at`");
  if (asked.has("value")) wish.typed = typed_of(asked.at("value"));
  if (asked.has("at")) wish.at = asked.at("at").number(-1e9, 1e9);
  return wish;
}

bool is_date(std::string_view text) {
  return text.size() >= 20 && text.size() <= 35 && text[4] == '-' && text[7] == '-' &&
         text[10] == 'T';
}

BenchTick tick_of(const Asked& asked) {
  asked.only({"id", "cut", "did", "at"}, {"words"});
  BenchTick tick{asked.at("id").text(64, 8), asked.at("cut").text(80),
                 asked.at("did").one_of({"done", "undone", "note", "measured"}), "",
                 asked.at("at").text(35)};
  if (asked.has("words")) tick.words = asked.at("words").text(500);
  if (tick.id.find_first_not_of(
          "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-") != std::string::npos)
    asked.refuse("has an id of other than letters, digits and -");
  if (!is_date(tick.at)) asked.refuse("has no date and time in `at`");
  return tick;
}

}  // namespace

bool is_piece_name(std::string_view name) {
  constexpr std::string_view letters =
      "_-ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";
  return !name.empty() && name.size() <= 80 && name.front() != '_' && name.front() != '-' &&
         name.find_first_not_of(letters) == std::string_view::npos;
}

Outcome<EditRequest> read_edits(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"base", "what"}, {"group"});
    EditRequest request{revision_of(asked.at("base"))};
    if (asked.has("group")) request.group = asked.at("group").text(64);
    for (const Asked& one : asked.at("what").items(1, 200)) request.what.push_back(change_of(one));
    return request;
  });
}

Outcome<TryRequest> read_try(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"base", "set"});
    TryRequest request{revision_of(asked.at("base"))};
    for (const Asked& one : asked.at("set").items(1, 64)) request.set.push_back(try_size_of(one));
    return request;
  });
}

Outcome<std::int64_t> read_base(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"base"});
    return revision_of(asked.at("base"));
  });
}

Outcome<RestoreRequest> read_restore(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"base", "revision"});
    return RestoreRequest{revision_of(asked.at("base")), revision_of(asked.at("revision"))};
  });
}

Outcome<SettleRequest> read_settle(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"base", "take"});
    return SettleRequest{revision_of(asked.at("base")),
                         asked.at("take").one_of({"theirs", "mine"}) == "theirs"};
  });
}

Outcome<NewPiece> read_new_piece(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"name", "from"});
    NewPiece piece{piece_name_of(asked.at("name"))};
    const Asked from = asked.at("from");
    if (from.has("starter")) {
      from.only({"starter"});
      piece.from = NewFrom::starter;
      piece.source = piece_name_of(from.at("starter"));
    } else if (from.has("text")) {
      from.only({"text"});
      piece.from = NewFrom::text;
      piece.source = from.at("text").text(1'000'000);
    } else if (from.has("copy_of")) {
      from.only({"copy_of"});
      piece.from = NewFrom::copy;
      piece.source = piece_name_of(from.at("copy_of"));
    } else {
      from.only({"nothing"});
      const Asked nothing = from.at("nothing");
      nothing.only({"title", "unit"});
      piece.title = nothing.at("title").text(200, 1);
      piece.unit =
          nothing.at("unit").one_of({"in", "mm"}) == "mm" ? LengthUnit::mm : LengthUnit::inch;
    }
    return piece;
  });
}

Outcome<std::string> read_new_name(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"to"});
    return piece_name_of(asked.at("to"));
  });
}

Outcome<OpenBench> read_open_bench(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    const bool is_batch = asked.has("batch");
    asked.only({is_batch ? "batch" : "piece"});
    if (is_batch)
      return OpenBench{.batch = static_cast<int>(asked.at("batch").whole(1, 1'000'000))};
    return OpenBench{.piece = piece_name_of(asked.at("piece"))};
  });
}

Diagnostics read_nothing(std::string_view json) {
  return read_request(json,
                      [](const Asked& asked) {
                        asked.only({});
                        return true;
                      })
      .diagnostics();
}

Outcome<double> read_make_plan(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({}, {"seconds"});
    return asked.has("seconds") ? asked.at("seconds").number(0.05, 600) : 4.0;
  });
}

Outcome<std::vector<BenchTick>> read_ticks(std::string_view json) {
  return read_request(json, [](const Asked& asked) {
    asked.only({"ticks"});
    std::vector<BenchTick> ticks;
    for (const Asked& one : asked.at("ticks").items(1, 500)) ticks.push_back(tick_of(one));
    return ticks;
  });
}

}  // namespace kw
