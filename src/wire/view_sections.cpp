// The sections of a view about what the file declares.
#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/measure/text.h"

#include "view_writing.h"

namespace kw::wire {
namespace {

Length length_of(const Value& value) {
  return Length::ticks(std::llround(value.amount));
}

// A slider's step: the file's, else what suits the range.
double step_of(const SizeDecl& decl, const Value& value, LengthUnit unit) {
  if (decl.step) {
    const auto step = evaluate(
        decl.step->expression,
        [](std::string_view, Span at) -> Outcome<Value> {
          return Diagnostic{.code = "measure.formula-syntax", .at = at, .message = "no name here"};
        },
        unit);
    if (step && step->amount > 0) {
      const bool is_bare = step->is_bare && step->dimension == a_number;
      return is_bare ? step->amount : plain_number(*step, unit);
    }
  }
  if (value.dimension == a_length) return unit == LengthUnit::inch ? 0.0625 : 1;
  if (value.dimension == an_angle) return 0.5;
  return 1;
}

// Its numbers are in the file's unit, which is what sliding writes; its texts in the unit shown.
void write_slider(JsonWriter& json, const SizeDecl& decl, const NamedValue& size,
                  const ViewData& data) {
  const LengthUnit unit = data.values_document->unit, shown = data.values_piece->unit;
  if (!size.from || !size.to) {
    json.null();
    return;
  }
  json.object().key("from").number(plain_number(*size.from, unit));
  json.key("to").number(plain_number(*size.to, unit));
  json.key("step").number(step_of(decl, size.value, unit));
  json.key("at").number(plain_number(size.value, unit));
  json.key("from_text").text(text_of(*size.from, shown));
  json.key("to_text").text(text_of(*size.to, shown)).end();
}

template <class List>
const NamedValue* named(const List& list, const std::string& name) {
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const NamedValue& v) { return v.name == name; });
  return found == list.end() ? nullptr : &*found;
}

void write_place(JsonWriter& json, const Text& text, const Utf16Index& index, Span at) {
  const Position position = position_of(text, at.begin);
  json.object().key("from").number(static_cast<std::int64_t>(index.units_at(at.begin)));
  json.key("to").number(static_cast<std::int64_t>(index.units_at(at.end)));
  json.key("line").number(static_cast<std::int64_t>(position.line));
  json.key("column").number(static_cast<std::int64_t>(position.column)).end();
}

void write_optional_point(JsonWriter& json, const std::optional<Vec3>& point) {
  if (point)
    json.point(*point);
  else
    json.null();
}

}  // namespace

double plain_number(const Value& value, LengthUnit unit) {
  if (value.dimension != a_length) return value.amount;
  const Length length = length_of(value);
  return unit == LengthUnit::inch ? length.in_inches() : length.in_mm();
}

std::string kind_of(const Value& value) {
  if (value.dimension == a_length) return "length";
  if (value.dimension == an_angle) return "angle";
  return value.dimension == a_number ? "number" : "other";
}

std::string text_of(const Value& value, LengthUnit unit) {
  if (value.dimension == a_length) return format_length(length_of(value), {.unit = unit});
  if (value.dimension == an_angle) return format_angle(Angle::degrees(value.amount), 3);
  if (value.dimension == a_number) return fmt::format("{:.6g}", value.amount);
  return fmt::format("{:.6g} (SI)", in_si(value));
}

void write_figure(JsonWriter& json, Length length, LengthUnit unit) {
  write_figure(json, value_of(length), unit);
}

void write_figure(JsonWriter& json, const Value& value, LengthUnit unit) {
  json.object().key("text").text(text_of(value, unit));
  json.key("value").number(plain_number(value, unit)).end();
}

std::string typed(const Text& text, Span at) {
  if (at.begin >= at.end || at.end > text.content.size()) return "";
  return text.content.substr(at.begin, at.end - at.begin);
}

void write_path(JsonWriter& json, const std::vector<std::string>& path) {
  json.texts(path);
}

void write_diagnostics(JsonWriter& json, const Text& text, const Utf16Index& index,
                       const Diagnostics& diagnostics) {
  json.array();
  for (const Diagnostic& d : diagnostics) {
    json.object()
        .key("severity")
        .text(d.severity == Severity::error     ? "error"
              : d.severity == Severity::warning ? "warning"
                                                : "advice");
    json.key("code").text(d.code).key("message").text(d.message).key("hint").text(d.hint);
    json.key("at");
    write_place(json, text, index, d.at);
    json.key("notes").array();
    for (const Note& note : d.notes) {
      json.object().key("at");
      write_place(json, text, index, note.at);
      json.key("message").text(note.message).end();
    }
    json.end().end();
  }
  json.end();
}

namespace {

// The value that the newest text gives it, else the last one that it had, else nothing.
const NamedValue* value_of(const ViewData& data, std::vector<NamedValue> Resolved::*list,
                           const std::string& name) {
  const NamedValue* newest = named(data.values_piece->*list, name);
  return newest ? newest : named(data.piece->*list, name);
}

// The first error within a formula.
std::optional<std::string> trouble_in(const ViewData& data, Span formula) {
  if (data.values_text != data.newest_text) return std::nullopt;
  for (const Diagnostic& d : *data.diagnostics)
    if (d.severity == Severity::error && d.at.begin >= formula.begin && d.at.end <= formula.end)
      return d.hint.empty() ? d.message : fmt::format("{}; {}", d.message, d.hint);
  return std::nullopt;
}

// A value's kind, as typed, its figure, and what is wrong with it.
void write_value(JsonWriter& json, const ViewData& data, const NamedValue* value, Span typed_at) {
  json.key("kind").text(value ? kind_of(value->value) : "other");
  json.key("typed").text(typed(*data.values_text, typed_at)).key("figure");
  if (value)
    write_figure(json, value->value, data.piece->unit);
  else
    json.null();
  json.key("trouble").text_or_null(trouble_in(data, typed_at));
}

}  // namespace

std::string sizes_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const SizeDecl& decl : data.values_document->sizes) {
    const NamedValue* size = value_of(data, &Resolved::sizes, decl.name.text);
    json.object().key("name").text(decl.name.text);
    json.key("words").text(decl.note.empty() ? decl.name.text : decl.note).key("path");
    write_path(json, {"size", decl.name.text, "is"});
    write_value(json, data, size, decl.is.at);
    json.key("slider");
    if (size)
      write_slider(json, decl, *size, data);
    else
      json.null();
    json.end();
  }
  json.end();
  return json.take();
}

std::string derived_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const DerivedDecl& decl : data.values_document->top.derived) {
    json.object().key("name").text(decl.name.text).key("path");
    write_path(json, {"derived", decl.name.text});
    write_value(json, data, value_of(data, &Resolved::derived, decl.name.text), decl.is.at);
    json.end();
  }
  json.end();
  return json.take();
}

std::string stocks_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const ResolvedStock& stock : data.piece->stocks) {
    json.object().key("name").text(stock.name).key("path");
    write_path(json, {"stock", stock.name});
    json.key("sold_as").text(stock.sold_as).key("species").text(stock.species).key("thickness");
    write_figure(json, stock.used.thickness, data.piece->unit);
    json.key("width");
    write_figure(json, stock.used.width, data.piece->unit);
    json.key("is_sheet").truth(stock.is_sheet).end();
  }
  json.end();
  return json.take();
}

std::string points_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const ResolvedPoint& point : data.piece->points) {
    json.object().key("name").text(point.name).key("path");
    write_path(json, {"point", point.name});
    json.key("at");
    write_optional_point(json, point.at);
    json.end();
  }
  json.end();
  return json.take();
}

std::string planes_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  json.object().key("name").text("floor").key("path").null();
  json.key("at").point({}).key("normal").point({0, 0, -1}).end();
  for (const ResolvedPlane& plane : data.piece->planes) {
    json.object().key("name").text(plane.name).key("path");
    write_path(json, {"plane", plane.name});
    json.key("at");
    write_optional_point(json, plane.plane
                                   ? std::optional(plane.plane->normal * plane.plane->offset)
                                   : std::nullopt);
    json.key("normal");
    write_optional_point(json, plane.plane ? std::optional(plane.plane->normal) : std::nullopt);
    json.end();
  }
  json.end();
  return json.take();
}

std::string files_json() {
  struct Row {
    std::string_view name, words;
    bool needs_plan;
  };
  constexpr std::array<Row, 5> rows = {{{"piece.toml", "the piece file", false},
                                        {"cut-list.csv", "cut list", false},
                                        {"marks.csv", "every mark and angle", false},
                                        {"piece.glb", "3D model (glTF)", false},
                                        {"piece.step", "3D solids (STEP)", false}}};
  JsonWriter json;
  json.array();
  for (const Row& row : rows) {
    json.object().key("name").text(row.name).key("words").text(row.words);
    json.key("needs_plan").truth(row.needs_plan).end();
  }
  json.end();
  return json.take();
}

}  // namespace kw::wire
