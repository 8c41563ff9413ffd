#include "kerfwright/piece/change.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/diag/utf16.h"
#include "kerfwright/measure/text.h"

#include "change_text.h"

namespace kw {
using namespace changing;

namespace {

constexpr std::array counted = {"count", "strips"};

struct Changer {
  const Text& text;
  const Resolved& piece;
  Making making = {};

  [[nodiscard]] Document document() const { return read_piece(making.changed.text).value; }
  void say(std::string words) { making.changed.words = std::move(words); }
  void refuse(Diagnostic why) { making.faults.push_back(std::move(why)); }
  void must_be_name(const std::string& id) {
    if (is_name(id)) return;
    refuse(fault("edit.bad-id", fmt::format("`{}` cannot be a name", id),
                 "use letters, digits and _, hyphens between them, and no digit first"));
  }

  void operator()(const SpliceText& wish);
  void operator()(const SetPath& wish);
  void operator()(const SlideSize& wish);
  void operator()(const UnsetPath& wish);
  void operator()(const RemoveTable& wish) { take(remove(text, wish)); }
  void operator()(const RenameTable& wish) { take(rename(text, wish, piece)); }
  void operator()(const AddStock& wish);
  void operator()(const AddSize& wish);
  void operator()(const AddPoint& wish);
  void operator()(const AddBoard& wish);
  void operator()(const AddJoint& wish);
  void operator()(const AddCopy& wish);

  void take(Outcome<Changed> changed) {
    for (const Diagnostic& d : changed.diagnostics()) making.faults.push_back(d);
    if (changed) making.changed = *std::move(changed);
  }
  bool put(const KeyPath& path, const std::string& toml);
};

std::string spoken(const ValueWish& value) {
  const std::string toml = toml_of(value, true);
  const bool is_text = std::holds_alternative<std::string>(value);
  return is_text ? std::get<std::string>(value) : toml;
}

void Changer::operator()(const SpliceText& wish) {
  const Utf16Index index(text.content);
  if (wish.from > wish.to || wish.to > index.size()) {
    refuse(fault("edit.no-place",
                 fmt::format("the text has no places {} to {}", wish.from, wish.to),
                 "load the piece again"));
    return;
  }
  making.apply(TextEdit{{index.byte_at(wish.from), index.byte_at(wish.to)}, wish.with});
  say("typed in the text");
}

bool has_code(const Diagnostics& diagnostics, std::string_view code) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [&](const Diagnostic& d) { return d.code == code; });
}

// Sets the value, or adds the key where there is none.
bool Changer::put(const KeyPath& path, const std::string& toml) {
  auto edit = set_value(making.changed.text, path, toml);
  if (!edit && path.size() > 1 && has_code(edit.diagnostics(), "edit.no-such-value")) {
    edit = add_value(making.changed.text, KeyPath(path.begin(), path.end() - 1), path.back(), toml);
  }
  return making.apply(std::move(edit));
}

void Changer::operator()(const SetPath& wish) {
  const auto there = find_value(text, wish.path);
  const std::string old = there ? text.content.substr(there->begin, there->end - there->begin) : "";
  const bool is_bare =
      there ? is_plain_number(old)
            : std::find(counted.begin(), counted.end(), wish.path.back()) != counted.end();
  put(wish.path, toml_of(wish.value, is_bare));
  say(fmt::format("set {} to {}", spoken_path(wish.path), spoken(wish.value)));
}

// The number on the size's step, as the trade writes it.
std::string slid(const NamedValue& size, const SizeDecl& decl, double at, LengthUnit unit) {
  const auto number = [&](const Value& value) {
    return value.dimension == a_length
               ? value.amount / static_cast<double>(unit == LengthUnit::inch
                                                        ? Length::ticks_per_inch
                                                        : Length::ticks_per_mm)
               : value.amount;
  };
  double step = size.value.dimension == a_length   ? (unit == LengthUnit::inch ? 1.0 / 64 : 0.5)
                : size.value.dimension == an_angle ? 0.1
                                                   : 1;
  if (decl.step) {
    const auto none = [](std::string_view, Span where) -> Outcome<Value> {
      return Diagnostic{.code = "piece.unknown-name", .at = where, .message = "no names here"};
    };
    const auto given = evaluate(decl.step->expression, none, unit);
    if (given && given->amount > 0)
      step = given->is_bare && given->dimension == a_number ? given->amount : number(*given);
  }
  const double from = size.from ? number(*size.from) : 0;
  double value = from + std::round((at - from) / step) * step;
  if (size.from) value = std::max(value, number(*size.from));
  if (size.to) value = std::min(value, number(*size.to));
  if (size.value.dimension == a_length)
    return typed_length(unit == LengthUnit::inch ? value * 25.4 : value, unit);
  std::string text = fmt::format("{:.6g}", value);
  return size.value.dimension == an_angle ? text + " deg" : text;
}

void Changer::operator()(const SlideSize& wish) {
  const Document doc = document();
  for (const SizeDecl& decl : doc.sizes) {
    if (decl.name.text != wish.size) continue;
    for (const NamedValue& size : piece.sizes) {
      if (size.name != wish.size) continue;
      const KeyPath path = {"size", wish.size, "is"};
      const std::string typed = slid(size, decl, wish.at, doc.unit);
      (*this)(SetPath{path, typed});
      say(fmt::format("set {} to {}", wish.size, typed));
      return;
    }
  }
  refuse(fault("edit.no-such-value", fmt::format("the piece has no size `{}`", wish.size),
               "load the piece again"));
}

void Changer::operator()(const UnsetPath& wish) {
  making.apply(remove_value(text, wish.path));
  say(fmt::format("took {} away", spoken_path(wish.path)));
}

void Changer::operator()(const AddStock& wish) {
  const Document doc = document();
  std::vector<std::string> taken;
  for (const StockDecl& stock : doc.stocks) taken.push_back(stock.name.text);
  const std::string id = wish.id.empty() ? free_name("stock", taken) : wish.id;
  must_be_name(id);
  NewTable table{{"stock", id}};
  table.add("section", wish.section.size() == 1 ? quoted(wish.section[0]) : list_of(wish.section));
  table.add_typed("species", wish.species);
  table.add_typed("rip", wish.rip);
  table.add_typed("sheet", wish.sheet);
  making.add(table);
  say(fmt::format("added stock {}", id));
}

void Changer::operator()(const AddSize& wish) {
  must_be_name(wish.id);
  NewTable table{{"size", wish.id}};
  table.add("is", quoted(wish.is));
  table.add_typed("from", wish.from);
  table.add_typed("to", wish.to);
  table.add_typed("step", wish.step);
  table.add_typed("note", wish.note);
  making.add(table);
  say(fmt::format("added size {}", wish.id));
}

void Changer::operator()(const AddPoint& wish) {
  must_be_name(wish.id);
  const Document doc = document();
  std::string at = toml_of(wish.at, text, doc, piece);
  if (!at.starts_with('[')) {
    refuse(fault("edit.already-there", "a layout point lies there already",
                 fmt::format("use {} itself", at)));
    return;
  }
  if (making.apply(add_value(text, {"point"}, wish.id, at)))
    making.changed.made.push_back({"point", wish.id});
  say(fmt::format("added point {}", wish.id));
}

// The board that a pointed place lies on, when the new board is to end against its side.
std::optional<EndWish> against(const PlaceWish& place) {
  const auto* pointed = std::get_if<Pointed>(&place);
  if (!pointed || pointed->board.empty() || pointed->side.empty()) return std::nullopt;
  return EndWish{{{"against", pointed->board}, {"face", pointed->side}}};
}

void Changer::operator()(const AddBoard& wish) {
  const Document doc = document();
  const std::string id = wish.id.empty() ? free_name(wish.stock, board_names(doc, piece)) : wish.id;
  must_be_name(id);
  if (!wish.to && (!wish.along || wish.length.empty())) {
    refuse(fault("edit.not-enough", "a board needs a second place, or a direction and a length",
                 "say where it goes to"));
    return;
  }
  NewTable table{{"board", id}};
  table.add("stock", quoted(wish.stock));
  const std::string from = toml_of(wish.from, text, doc, piece);
  if (wish.to) {
    table.add("runs", fmt::format("[{}, {}]", from, toml_of(*wish.to, text, doc, piece)));
  } else {
    table.add("at", from);
    table.add("along", toml_of(*wish.along));
    table.add("length", quoted(wish.length));
  }
  if (wish.face) table.add("face", toml_of(*wish.face));
  if (!wish.hold.empty()) table.add("hold", list_of(wish.hold));
  if (!wish.shift.empty()) table.add("shift", list_of(wish.shift));
  const auto start = wish.start ? wish.start : against(wish.from);
  const auto end = wish.end ? wish.end : wish.to ? against(*wish.to) : std::nullopt;
  if (start) table.add("start", toml_of(*start));
  if (end) table.add("end", toml_of(*end));
  making.add(table);
  say(fmt::format("added board {}", id));
}

void Changer::operator()(const AddJoint& wish) {
  const Document doc = document();
  std::vector<std::string> taken;
  for (const JointDecl& joint : doc.top.joints) taken.push_back(joint.name.text);
  const std::string id = wish.id.empty() ? free_name(wish.kind, taken) : wish.id;
  must_be_name(id);
  NewTable table{{"joint", id}};
  table.add("kind", quoted(wish.kind));
  table.add("of", list_of(wish.boards));
  for (const auto& [key, typed] : wish.keys) {
    if (!is_name(key)) must_be_name(key);
    table.add(key,
              is_plain_number(typed) && (key == "count" || key == "step") ? typed : quoted(typed));
  }
  making.add(table);
  say(fmt::format("joined {} by a {}", fmt::join(wish.boards, " and "), wish.kind));
}

void Changer::operator()(const AddCopy& wish) {
  const Document doc = document();
  const std::string id = wish.id.empty() ? free_name(wish.how, board_names(doc, piece)) : wish.id;
  must_be_name(id);
  NewTable table{{wish.how, id}};
  table.add("of", list_of(wish.boards));
  table.add_typed("across", wish.across);
  if (!wish.count.empty())
    table.add("count", is_plain_number(wish.count) ? wish.count : quoted(wish.count));
  if (!wish.step.empty()) table.add("step", list_of(wish.step));
  if (wish.about) table.add("about", toml_of(*wish.about));
  if (wish.at) table.add("at", toml_of(*wish.at, text, doc, piece));
  table.add_typed("angle", wish.angle);
  if (!wish.names.empty()) table.add("names", list_of(wish.names));
  if (wish.joints && !*wish.joints) table.add("joints", "false");
  making.add(table);
  say(fmt::format("copied {} by a {}", fmt::join(wish.boards, ", "), wish.how));
}

}  // namespace

Outcome<Changed> change(const Text& text, const Change& wish, const Resolved& piece) {
  Changer changer{text, piece};
  changer.making.changed.text = text;
  std::visit(changer, wish);
  if (!changer.making.faults.empty()) return std::move(changer.making.faults);
  return std::move(changer.making.changed);
}

}  // namespace kw
