#include "kerfwright/wire/view_json.h"

#include <algorithm>
#include <fmt/core.h>

#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

void write_frame(JsonWriter& json, const Frame& frame) {
  json.object().key("origin").point(frame.origin);
  json.key("x").point(frame.x).key("y").point(frame.y).key("z").point(frame.z).end();
}

struct Box {
  Vec3 low = {1e300, 1e300, 1e300}, high = {-1e300, -1e300, -1e300};
  void take(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
};

Box box_of(const Body& body, const Mesh& mesh) {
  Box box;
  for (const Vec3& p : mesh.points) box.take(body.frame.to_world(p));
  if (mesh.points.empty()) box = {};
  return box;
}

std::array<Vec3, 2> middle_line(const Body& body, const ResolvedBoard& board) {
  std::array<Vec3, 2> line = {Vec3{board.from_x, 0, 0}, Vec3{board.to_x, 0, 0}};
  for (std::size_t i = 0; i < 2 && i < board.cuts.size(); ++i) {
    const Plane& plane = board.cuts[i].plane;
    if (std::abs(plane.normal.x) > 1e-9) line[i].x = plane.offset / plane.normal.x;
  }
  return {body.frame.to_world(line[0]), body.frame.to_world(line[1])};
}

struct BodyWriter {
  const ViewData& data;
  JsonWriter& json;

  void write(std::size_t i, const std::string& mesh_id, const Box& box) {
    const Body& body = (*data.bodies)[i];
    const ResolvedBoard& board = at(data.piece->boards, body.board);
    const ResolvedStock& stock = at(data.piece->stocks, board.stock);
    const Part& part = at(data.cut_list->parts, at(data.cut_list->part_of_body, i));
    const LengthUnit unit = data.piece->unit;
    json.object().key("id").text(board.id).key("path");
    write_path(json, path_of_board(data, board));
    json.key("is_copy").truth(board.id != board.made_from);
    json.key("is_panel").truth(board.strips > 1 || path_of_board(data, board).front() == "panel");
    json.key("part").text(part.letter).key("stock").text(stock.name).key("mesh").text(mesh_id);
    json.key("frame");
    write_frame(json, body.frame);
    json.key("low").point(box.low).key("high").point(box.high);
    const auto line = middle_line(body, board);
    json.key("line").array().point(line[0]).point(line[1]).end();
    json.key("mass_kg");
    if (stock.density)
      json.number(mass_of(body.shape->volume, *stock.density).value);
    else
      json.null();
    const auto figure = [&](std::string_view name, int index) {
      json.key(name);
      write_figure(json, at(part.figures, index).printed, unit);
    };
    figure("length", part.length);
    figure("width", part.width);
    figure("thickness", part.thickness);
    json.key("group").text(board.group).end();
  }
};

std::string bodies_json(const ViewData& data, const std::vector<std::string>& ids) {
  JsonWriter json;
  json.array();
  BodyWriter writer{data, json};
  for (std::size_t i = 0; i < data.bodies->size(); ++i)
    writer.write(i, ids[i], box_of((*data.bodies)[i], *(*data.meshes)[i]));
  json.end();
  return json.take();
}

std::string_view word_of(LengthUnit unit) {
  return unit == LengthUnit::inch ? "in" : "mm";
}

std::string one(std::string_view text) {
  JsonWriter json;
  json.text(text);
  return json.take();
}

std::string rule_json(const ViewData& data) {
  JsonWriter json;
  write_figure(json, data.piece->rule, data.piece->unit);
  return json.take();
}

std::string diagnostics_section(const ViewData& data) {
  JsonWriter json;
  const Utf16Index index(data.newest_text->content);
  write_diagnostics(json, *data.newest_text, index, *data.diagnostics);
  return json.take();
}

void write_head(JsonWriter& json, const ViewHead& head) {
  json.key("piece").text(head.piece).key("revision").number(head.revision);
  json.key("history").object();
  json.key("can_undo").truth(head.undo.has_value()).key("can_redo").truth(head.redo.has_value());
  json.key("undo").text_or_null(head.undo).key("redo").text_or_null(head.redo).end();
  const bool is_outside = head.saved == SavedState::outside;
  json.key("saved").object().key("state");
  json.text(is_outside ? "outside" : head.saved == SavedState::not_saved ? "not_saved" : "saved");
  json.key("words").text(head.saved_words);
  if (is_outside) json.key("outside_text").text(head.outside_text);
  json.end().key("picture").text(head.is_earlier ? "earlier" : "now");
}

void write_meshes(JsonWriter& json, const ViewSections& sections, const ViewSections* known) {
  json.key("meshes").array();
  for (const auto& [id, mesh] : sections.meshes)
    if (!known || known->meshes.count(id) == 0) json.raw(mesh->json);
  json.end();
}

}  // namespace

ViewSections sections_of(const ViewData& data, MeshWriter& meshes) {
  ViewSections sections;
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < data.bodies->size(); ++i) {
    auto written = meshes.written((*data.meshes)[i], (*data.bodies)[i].shape);
    ids.push_back(written->id);
    sections.meshes.emplace(ids.back(), std::move(written));
  }
  sections.json = {one(data.piece->title),
                   one(word_of(data.piece->unit)),
                   one(word_of(data.document->unit)),
                   rule_json(data),
                   diagnostics_section(data),
                   sizes_json(data),
                   derived_json(data),
                   stocks_json(data),
                   bodies_json(data, ids),
                   joints_json(data),
                   clashes_json(data),
                   points_json(data),
                   planes_json(data),
                   parts_json(data),
                   totals_json(data),
                   files_json()};
  return sections;
}

std::string view_json(const ViewHead& head, const std::string& text, const ViewSections& sections) {
  JsonWriter json;
  json.object();
  write_head(json, head);
  json.key("text").text(text);
  for (std::size_t i = 0; i < sections.json.size(); ++i)
    json.key(ViewSections::names[i]).raw(sections.json[i]);
  write_meshes(json, sections, nullptr);
  json.end();
  return json.take();
}

std::vector<TextSplice> splices_of(const std::string& text, const std::vector<TextEdit>& edits) {
  std::vector<TextSplice> splices;
  std::string now = text;
  for (const TextEdit& edit : edits) {
    const Utf16Index index(now);
    splices.push_back({index.units_at(edit.at.begin), index.units_at(edit.at.end), edit.with});
    now.replace(edit.at.begin, edit.at.end - edit.at.begin, edit.with);
  }
  return splices;
}

std::string changes_json(const ViewHead& head, const ViewChange& change, const ViewSections& before,
                         const ViewSections& after) {
  JsonWriter json;
  json.object().key("base").number(change.base);
  write_head(json, head);
  json.key("splices").array();
  for (const TextSplice& splice : change.splices) {
    json.object().key("from").number(static_cast<std::int64_t>(splice.from));
    json.key("to").number(static_cast<std::int64_t>(splice.to));
    json.key("with").text(splice.with).end();
  }
  json.end();
  if (!change.made.empty()) {
    json.key("made").array();
    for (const auto& path : change.made) write_path(json, path);
    json.end();
  }
  for (std::size_t i = 0; i < after.json.size(); ++i)
    if (after.json[i] != before.json[i]) json.key(ViewSections::names[i]).raw(after.json[i]);
  write_meshes(json, after, &before);
  json.end();
  return json.take();
}

}  // namespace kw
