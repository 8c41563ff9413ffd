// The order of assembly and what the checks find, as JSON.
#include <fmt/core.h>

#include "kerfwright/planbook/steps.h"
#include "kerfwright/wire/replies.h"

#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

const std::string& id_of(const PlanData& data, int body) {
  return at(data.piece->boards, at(*data.bodies, body).board).id;
}

void write_bodies(JsonWriter& json, const PlanData& data, const std::vector<int>& bodies) {
  json.array();
  for (const int body : bodies) json.text(id_of(data, body));
  json.end();
}

void write_moved(JsonWriter& json, const PlanData& data, int body, Vec3 by) {
  json.object().key("board").text(id_of(data, body)).key("by").point(by).end();
}

void write_step(JsonWriter& json, const PlanData& data, const ToldStep& told,
                const AssemblyStep& step) {
  json.object().key("name").text(told.name).key("title").text(told.title);
  json.key("lines").texts(told.lines).key("there");
  write_bodies(json, data, told.picture.there);
  json.key("added").array();
  for (std::size_t i = 0; i < told.picture.added.size(); ++i)
    write_moved(json, data, told.picture.added[i], told.picture.moved[i]);
  json.end().key("onto");
  write_bodies(json, data, told.picture.onto);
  json.key("made_apart");
  if (step.sub < 0)
    json.null();
  else
    json.text(at(data.assembly->subs, step.sub).name);
  json.end();
}

void write_finding(JsonWriter& json, const Resolved& piece, const Finding& finding) {
  json.object()
      .key("area")
      .text(name_of(finding.area))
      .key("verdict")
      .text(name_of(finding.verdict));
  json.key("check").text(finding.check).key("message").text(finding.message);
  json.key("number").text(finding.number).key("limit").text(finding.limit);
  json.key("source").text(finding.source).key("assumption").text(finding.assumption);
  json.key("change").text(finding.change).key("boards").array();
  for (const int board : finding.boards)
    if (board >= 0) json.text(at(piece.boards, board).id);
  json.end().key("joint");
  if (finding.joint < 0)
    json.null();
  else
    json.text(at(piece.joints, finding.joint).id);
  json.key("ratio").number(finding.ratio).key("shares").array();
  for (const double share : finding.shares) json.number(share);
  json.end().end();
}

}  // namespace

std::string steps_json(std::int64_t revision, const PlanData& data) {
  const auto told = steps_of(data, {.unit = data.piece->unit});
  JsonWriter json;
  json.object().key("revision").number(revision).key("steps").array();
  for (std::size_t i = 0; i < told.size(); ++i)
    write_step(json, data, told[i], data.assembly->steps[i]);
  json.end().key("apart").array();
  for (std::size_t i = 0; i < data.assembly->apart.size(); ++i)
    write_moved(json, data, static_cast<int>(i), data.assembly->apart[i]);
  json.end().end();
  return json.take();
}

std::string findings_json(std::int64_t revision, const Resolved& piece,
                          const std::vector<Finding>& findings) {
  JsonWriter json;
  json.object().key("revision").number(revision).key("caution").text(findings_caution());
  json.key("findings").array();
  for (const Finding& finding : findings) write_finding(json, piece, finding);
  json.end().end();
  return json.take();
}

}  // namespace kw
