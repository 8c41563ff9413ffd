#include "scene.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace kw::resolving {
namespace {

const Crowd* crowd_called(const Scene& scene, std::string_view name) {
  for (const Crowd& crowd : scene.crowds)
    if (crowd.name == name) return &crowd;
  return nullptr;
}

// Whether the word is called after a copy that could not be made.
bool is_of_broken_crowd(const Scene& scene, std::string_view word) {
  const Crowd* crowd = crowd_called(scene, word.substr(0, word.find('/')));
  return crowd && crowd->is_broken;
}

void tell_unknown(Scene& scene, const Name& word) {
  if (scene.work.faults.is_full() || is_of_broken_crowd(scene, word.text)) return;
  std::vector<std::string> known;
  for (const auto& [id, index] : scene.by_id) known.push_back(id);
  for (const Crowd& crowd : scene.crowds) known.push_back(crowd.name);
  scene.work.faults.report(
      {.code = "piece.unknown-board",
       .at = word.at,
       .message = fmt::format("no board, panel, copy or use is called `{}`", word.text),
       .hint = hint_for(word.text, known, "boards")});
}

// Where an end plane crosses an arris, along x.
double crossing(const Plane& plane, double y, double z) {
  return (plane.offset - plane.normal.y * y - plane.normal.z * z) / plane.normal.x + 0.0;
}

}  // namespace

int add_part(Scene& scene, Part part) {
  if (scene.by_id.count(part.board.id) > 0) return -1;
  const ResolvedBoard& board = part.board;
  const std::size_t letters =
      board.id.size() + board.made_from.size() + board.note.size() + board.group.size();
  if (!spend_letters(scene.work, letters, board.at)) return -1;
  const int index = static_cast<int>(scene.parts.size());
  scene.by_id.emplace(part.board.id, index);
  scene.parts.push_back(std::move(part));
  return index;
}

bool is_pattern(std::string_view word) {
  return word.find('*') != std::string_view::npos;
}

bool matches(std::string_view pattern, std::string_view id) {
  std::size_t p = 0, i = 0, star = std::string_view::npos, resume = 0;
  while (i < id.size()) {
    if (p < pattern.size() && pattern[p] == '*') {
      star = p++;
      resume = i;
    } else if (p < pattern.size() && pattern[p] == id[i]) {
      ++p;
      ++i;
    } else if (star != std::string_view::npos) {
      p = star + 1;
      i = ++resume;
    } else {
      return false;
    }
  }
  while (p < pattern.size() && pattern[p] == '*') ++p;
  return p == pattern.size();
}

Selection select(Scene& scene, const Name& word) {
  if (word.text.empty()) return {};
  if (const auto found = scene.by_id.find(word.text); found != scene.by_id.end())
    return {.parts = {found->second}, .is_single = true};
  if (const Crowd* crowd = crowd_called(scene, word.text)) return {.parts = crowd->parts};
  if (!is_pattern(word.text)) return tell_unknown(scene, word), Selection{};
  Selection selection;
  std::size_t letters = 0;
  for (const Part& part : scene.parts) letters += part.board.id.size();
  const auto steps = static_cast<long>(letters / 64 * word.text.size());
  if (!spend(scene.work, scene.work.budget.comparisons, steps, word.at,
             "comparisons with patterns"))
    return {};
  for (std::size_t i = 0; i < scene.parts.size(); ++i)
    if (matches(word.text, scene.parts[i].board.id)) selection.parts.push_back(static_cast<int>(i));
  if (selection.parts.empty())
    scene.work.faults.report(
        {.code = "piece.matches-nothing",
         .at = word.at,
         .message = fmt::format("no board or panel matches `{}`", word.text),
         .hint = "`*` stands for any run of letters; copies are called COPY/BOARD"});
  return selection;
}

std::vector<int> select(Scene& scene, const std::vector<Name>& words) {
  std::vector<int> parts;
  std::vector<bool> is_in(scene.parts.size());
  for (const Name& word : words)
    for (const int part : select(scene, word).parts) {
      if (is_in[at_index(part)]) continue;
      is_in[at_index(part)] = true;
      parts.push_back(part);
    }
  return parts;
}

int select_one(Scene& scene, const Name& word) {
  if (word.text.empty()) return -1;
  const auto found = scene.by_id.find(word.text);
  if (found != scene.by_id.end()) return found->second;
  tell_unknown(scene, word);
  return -1;
}

Box box_of(const Part& part) {
  const double w = part.board.section.width.in_mm() / 2,
               t = part.board.section.thickness.in_mm() / 2;
  const Plane &start = part.ends[at_start].plane, &end = part.ends[at_end].plane;
  Box box{crossing(start, w, t), crossing(end, w, t), w, t};
  for (const double y : {-w, w})
    for (const double z : {-t, t}) {
      box.from_x = std::min(box.from_x, crossing(start, y, z));
      box.to_x = std::max(box.to_x, crossing(end, y, z));
    }
  return box;
}

double end_on_line(const Part& part, Which which) {
  const Plane& plane = part.ends[which].plane;
  return plane.offset / plane.normal.x + 0.0;
}

Convex body_of(const Part& part) {
  std::vector<Plane> cuts = {part.ends[at_start].plane, part.ends[at_end].plane};
  for (const PlaneCut& cut : part.features.cuts)
    if (cut.source == CutSource::free || cut.source == CutSource::taper) cuts.push_back(cut.plane);
  return convex_of(box_of(part), cuts, part.board.frame);
}

}  // namespace kw::resolving
