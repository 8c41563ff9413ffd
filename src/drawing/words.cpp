#include "words.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <functional>
#include <map>

namespace kw {
namespace {

std::string capital(std::string_view word) {
  std::string text(word);
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string bare(double degrees) {
  return format_angle(Angle::degrees(std::abs(degrees)));
}

// "saw swung 35° and blade tilted 10°", or "" when square.
std::string setting(Angle swing, Angle tilt) {
  const double s = std::abs(swing.in_degrees());
  const double t = std::abs(tilt.in_degrees());
  if (s < 0.05 && t < 0.05) return "";
  if (t < 0.05) return fmt::format("saw swung {}", bare(s));
  if (s < 0.05) return fmt::format("blade tilted {}", bare(t));
  return fmt::format("saw swung {} and blade tilted {}", bare(s), bare(t));
}

// Which edge and which face of an end are longer: the outward normal leans away from them.
std::string long_point(const SawCut& cut) {
  std::string text;
  if (std::abs(cut.printed_swing.in_degrees()) >= 0.05)
    text = fmt::format("long point on the {} edge", cut.swing.in_degrees() > 0 ? "marked" : "far");
  if (std::abs(cut.printed_tilt.in_degrees()) >= 0.05)
    text += fmt::format("{}the {} face longer", text.empty() ? "" : ", ",
                        cut.tilt.in_degrees() > 0 ? "lower" : "upper");
  return text;
}

// Which face is up and which edge is at the fence; the show face where one was named.
std::string on_the_saw(const Resolved& piece, const std::vector<Body>& bodies, const Part& part) {
  std::string text;
  const auto is_crooked = [](const SawCut& cut) {
    return cut.feature >= 0 && !setting(cut.printed_swing, cut.printed_tilt).empty();
  };
  if (std::any_of(part.ends.begin(), part.ends.end(), is_crooked))
    text = "On the saw: upper face up, far edge against the fence.";
  const Member& first = part.members.front();
  const auto& board =
      piece.boards[static_cast<std::size_t>(bodies[static_cast<std::size_t>(first.body)].board)];
  if (board.show.size() != 2) return text;
  const double sign = board.show[0] == '-' ? -1 : 1;
  const Vec3 shown = first.lie.turn(board.show[1] == 'y' ? Vec3{0, sign, 0} : Vec3{0, 0, sign});
  const Side side = std::abs(shown.z) > 0.5 ? (shown.z > 0 ? Side::front : Side::back)
                                            : (shown.y > 0 ? Side::high_edge : Side::low_edge);
  return text + fmt::format("{}Show face: the {}.", text.empty() ? "" : " ", name_of(side));
}

std::string end_note(const Part& part, const SawCut& cut, bool is_hook, const SheetStyle& style) {
  const auto how = setting(cut.printed_swing, cut.printed_tilt);
  if (how.empty() || cut.feature < 0) return "";
  std::string note = fmt::format(
      "{}: {}, {}; on the upper face {} from the hook on the marked edge, {} on the far edge.",
      is_hook ? "Hook end" : "Far end", how, long_point(cut), figure_text(part, cut.on_edge, style),
      figure_text(part, cut.off_edge, style));
  if (!cut.other_way.empty()) note += " Note: " + cut.other_way + ".";
  return note;
}

std::string cut_note(const Part& part, const SawCut& cut, const SheetStyle& style) {
  if (!cut.is_along) {
    const auto how = setting(cut.printed_swing, cut.printed_tilt);
    return fmt::format("Cut at {} on the marked edge, {} on the far edge{}.{}",
                       figure_text(part, cut.on_edge, style),
                       figure_text(part, cut.off_edge, style), how.empty() ? "" : ", " + how,
                       cut.other_way.empty() ? "" : " Note: " + cut.other_way + ".");
  }
  const auto tilted = fmt::format("blade tilted {}", bare(cut.printed_tilt.in_degrees()));
  if (cut.from_along < 0) return fmt::format("Bevel along the grain, {}.", tilted);
  if (is_bevel(part, cut)) {
    return fmt::format("Bevel along the grain {} from the marked edge, {}.",
                       figure_text(part, cut.from_across, style), tilted);
  }
  return fmt::format(
      "Taper from {} across at {} along to {} across at {} along.",
      figure_text(part, cut.from_across, style), figure_text(part, cut.from_along, style),
      figure_text(part, cut.to_across, style), figure_text(part, cut.to_along, style));
}

std::string opening_text(const Part& part, const Opening& opening, const SheetStyle& style) {
  std::string text;
  const bool has_near = opening.near_from >= 0;
  const bool has_far = opening.far_from >= 0;
  const auto range = [&](int from, int to) {
    return fmt::format("{} to {}", figure_text(part, from, style), figure_text(part, to, style));
  };
  if (has_near) text += range(opening.near_from, opening.near_to);
  const bool differs = has_near && has_far &&
                       (opening.near_from != opening.far_from || opening.near_to != opening.far_to);
  if (differs)
    text += fmt::format(" on the near side, {} on the far side",
                        range(opening.far_from, opening.far_to));
  if (!has_near && has_far) text += range(opening.far_from, opening.far_to) + " on the far side";
  if (opening.across_from >= 0)
    text += fmt::format(", {} across", range(opening.across_from, opening.across_to));
  return text;
}

// The opening that says most: on a broad face where there is one.
const Opening& main_opening(const Mark& mark) {
  const auto broad = std::find_if(mark.openings.begin(), mark.openings.end(), [](const Opening& o) {
    return o.side == Side::front || o.side == Side::back;
  });
  return broad == mark.openings.end() ? mark.openings.front() : *broad;
}

std::string mark_note(const Part& part, const Mark& mark, const std::string& partner,
                      const SheetStyle& style) {
  const Opening& opening = main_opening(mark);
  std::string note = capital(name_of(mark.kind));
  if (!partner.empty()) note += fmt::format(" for {}", partner);
  note += fmt::format(" in the {}: {}", name_of(opening.side), opening_text(part, opening, style));
  if (mark.depth >= 0) {
    note += fmt::format("; {} deep from the {}", figure_text(part, mark.depth, style),
                        name_of(mark.depth_from));
  } else {
    note += "; right through";
  }
  const auto how = setting(mark.printed_swing, mark.printed_tilt);
  return note + (how.empty() ? "." : "; " + how + ".");
}

bool is_square_shoulder(const Mark& mark) {
  return mark.kind == FeatureKind::tenon && mark.depth >= 0 &&
         setting(mark.printed_swing, mark.printed_tilt).empty();
}

// Along the board: "0 mm to 32 mm".
std::string along_text(const Part& part, const Opening& opening, const SheetStyle& style) {
  const bool is_near = opening.near_from >= 0;
  const int from = is_near ? opening.near_from : opening.far_from;
  const int to = is_near ? opening.near_to : opening.far_to;
  return fmt::format("{} to {}", figure_text(part, from, style), figure_text(part, to, style));
}

// The square shoulders of a tenon are told together: "Tenon for A, 0 mm to 32 mm from the hook:
// shoulders 13 mm deep from the upper face and the lower face, 10 mm from the marked edge."
void add_tenon_notes(const Part& part, const std::function<std::string(const Mark&)>& partner_of,
                     const SheetStyle& style, std::vector<std::string>& notes) {
  std::map<std::string, std::map<std::string, std::vector<std::string_view>>> tenons;
  for (const Mark& mark : part.marks) {
    if (!is_square_shoulder(mark)) continue;
    const std::string partner = partner_of(mark);
    const auto what = fmt::format("Tenon{}, {} from the hook: shoulders ",
                                  partner.empty() ? "" : " for " + partner,
                                  along_text(part, main_opening(mark), style));
    tenons[what][figure_text(part, mark.depth, style)].push_back(name_of(mark.depth_from));
  }
  for (const auto& [what, depths] : tenons) {
    std::string text = what;
    for (const auto& [depth, sides] : depths) {
      text += fmt::format("{}{} deep from the {}", text.size() > what.size() ? ", " : "", depth,
                          fmt::join(sides, ", the "));
    }
    notes.push_back(text + ".");
  }
}

// Holes that differ only in place are told together.
void add_hole_notes(const Part& part, const SheetStyle& style, std::vector<std::string>& notes) {
  std::map<std::string, std::string> places;
  std::vector<std::string> order;
  for (const HoleMark& hole : part.holes) {
    const bool is_end = hole.side == Side::start || hole.side == Side::end;
    std::string what =
        fmt::format("{}, {} in the {}", capital(name_of(hole.kind)),
                    written(bit_for(hole, style.length.unit), style), name_of(hole.side));
    what += hole.depth >= 0 ? fmt::format(", {} deep", figure_text(part, hole.depth, style))
                            : ", right through";
    if (hole.lean.in_degrees() > 0.05)
      what += fmt::format(", leaning {}", bare(hole.lean.in_degrees()));
    what +=
        is_end ? ", from the marked edge and up from the bench: " : ", from the hook and across: ";
    auto [entry, is_new] = places.try_emplace(what);
    if (is_new) order.push_back(what);
    entry->second +=
        fmt::format("{}{} / {}", entry->second.empty() ? "" : "; ",
                    figure_text(part, hole.along, style), figure_text(part, hole.across, style));
  }
  for (const auto& what : order) notes.push_back(what + places[what] + ".");
}

}  // namespace

std::string letter_of_board(const Resolved& piece, const std::vector<Body>& bodies,
                            const CutList& list, const std::string& id) {
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (piece.boards[static_cast<std::size_t>(bodies[i].board)].id == id) {
      return list.parts[static_cast<std::size_t>(list.part_of_body[i])].letter;
    }
  }
  return "";
}

std::string written(Length length, const SheetStyle& style) {
  return format_length(length, style.length);
}

std::string figure_text(const Part& part, int figure, const SheetStyle& style) {
  return written(part.figures[static_cast<std::size_t>(figure)].printed, style);
}

std::string count_text(const Part& part) {
  if (part.right > 0)
    return fmt::format("{} left and {} right (mirror images)", part.left, part.right);
  return part.left == 1 ? "1 piece" : fmt::format("{} pieces", part.left);
}

std::string size_text(const Resolved& piece, const Part& part, const SheetStyle& style) {
  const auto& stock = piece.stocks[static_cast<std::size_t>(part.stock)];
  const auto exact = [&](int figure) {
    return written(part.figures[static_cast<std::size_t>(figure)].exact, style);
  };
  std::string text = fmt::format("{} x {} x {}", exact(part.thickness), exact(part.width),
                                 figure_text(part, part.length, style));
  text += ", from " + stock.sold_as;
  if (!stock.species.empty()) text += " " + stock.species;
  if (part.strips > 1) text += fmt::format(", {} boards glued edge to edge", part.strips);
  return text;
}

std::vector<std::string> notes_of(const Resolved& piece, const std::vector<Body>& bodies,
                                  const CutList& cut_list, const Part& part,
                                  const SheetStyle& style) {
  std::vector<std::string> notes;
  const auto lies = on_the_saw(piece, bodies, part);
  if (!lies.empty()) notes.push_back(lies);
  for (std::size_t i = 0; i < part.ends.size(); ++i) {
    auto note = end_note(part, part.ends[i], i == 0, style);
    if (!note.empty()) notes.push_back(std::move(note));
  }
  for (const SawCut& cut : part.cuts) notes.push_back(cut_note(part, cut, style));
  const auto partner_of = [&](const Mark& mark) {
    return letter_of_board(piece, bodies, cut_list, mark.partner);
  };
  add_tenon_notes(part, partner_of, style, notes);
  for (const Mark& mark : part.marks) {
    if (!is_square_shoulder(mark)) notes.push_back(mark_note(part, mark, partner_of(mark), style));
  }
  add_hole_notes(part, style, notes);
  if (part.is_curved) notes.push_back("Curved: saw to the full-size template.");
  if (part.right > 0)
    notes.push_back("Drawn as the left hand; the right hand is its mirror image.");
  return notes;
}

}  // namespace kw
