#include "change_text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

#include "reader.h"

namespace kw::changing {
namespace {

// How near a pointed place must be to a point to be that point, mm.
constexpr double same_place = 0.02;

std::string slice(const Text& text, Span at) {
  return text.content.substr(at.begin, at.end - at.begin);
}

std::string written_formula(const Text& text, const Formula& formula) {
  return quoted(slice(text, formula.at));
}

std::string written_point(const Text& text, const PointRef& point) {
  if (const auto* name = std::get_if<Name>(&point)) return quoted(name->text);
  const auto& three = std::get<Formula3>(point);
  return fmt::format("[{}, {}, {}]", written_formula(text, three[0]),
                     written_formula(text, three[1]), written_formula(text, three[2]));
}

// Where the line of a board as declared begins and ends, in the words of the file.
std::optional<std::string> end_in_words(const Text& text, const Document& document,
                                        const Resolved& piece, const Pointed& pointed) {
  for (const ResolvedBoard& board : piece.boards) {
    if (board.id != pointed.board || board.id != board.made_from) continue;
    for (const BoardDecl& decl : document.top.boards) {
      if (decl.name.text != board.id || decl.placement.hold || decl.placement.shift) continue;
      const Vec3 start = board.frame.origin;
      const bool is_start = norm(pointed.world - start) < same_place;
      if (is_start && decl.placement.runs) return written_point(text, (*decl.placement.runs)[0]);
      if (is_start && decl.placement.from) return written_point(text, *decl.placement.from);
    }
  }
  return std::nullopt;
}

std::string figures(Vec3 world, LengthUnit unit) {
  return list_of(
      {typed_length(world.x, unit), typed_length(world.y, unit), typed_length(world.z, unit)});
}

}  // namespace

std::string quoted(const std::string& typed) {
  const bool has_double = typed.find('"') != std::string::npos;
  const bool is_plain = typed.find_first_of("'\n\r") == std::string::npos;
  if (has_double && is_plain && typed.find('\\') == std::string::npos) return "'" + typed + "'";
  std::string out = "\"";
  for (const char c : typed) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (byte < 0x20U || byte == 0x7FU)
      out += fmt::format("\\u{:04X}", byte);
    else
      out += c;
  }
  return out + '"';
}

std::string list_of(const std::vector<std::string>& typed) {
  std::string out = "[";
  for (const std::string& one : typed) out += (out.size() > 1 ? ", " : "") + quoted(one);
  return out + "]";
}

bool is_plain_number(const std::string& typed) {
  const std::size_t digits = typed.starts_with("-") ? 1 : 0;
  const std::size_t point = typed.find('.');
  const auto all_digits = [&](std::size_t from, std::size_t to) {
    return from < to && std::all_of(typed.begin() + static_cast<std::ptrdiff_t>(from),
                                    typed.begin() + static_cast<std::ptrdiff_t>(to),
                                    [](char c) { return c >= '0' && c <= '9'; });
  };
  if (typed.size() > 15) return false;
  const std::size_t whole_end = point == std::string::npos ? typed.size() : point;
  if (!all_digits(digits, whole_end)) return false;
  if (whole_end - digits > 1 && typed[digits] == '0') return false;  // TOML knows no 007
  return point == std::string::npos || all_digits(point + 1, typed.size());
}

std::string toml_of(const EndWish& end) {
  if (end.keys.empty()) return "\"square\"";
  if (end.keys.size() == 1 && end.keys.front().first == "plane")
    return quoted(end.keys.front().second);
  std::string out = "{ ";
  for (const auto& [key, typed] : end.keys)
    out += fmt::format("{}{} = {}", out.size() > 2 ? ", " : "", key, quoted(typed));
  return out + " }";
}

std::string toml_of(const DirectionWish& direction) {
  if (const auto* word = std::get_if<std::string>(&direction)) return quoted(*word);
  if (const auto* three = std::get_if<std::array<std::string, 3>>(&direction))
    return list_of({(*three)[0], (*three)[1], (*three)[2]});
  const auto& points = std::get<FromTo>(direction);
  return fmt::format("{{ from = {}, to = {} }}", quoted(points.from), quoted(points.to));
}

std::string toml_of(const ValueWish& value, bool number_is_bare) {
  if (const auto* typed = std::get_if<std::string>(&value))
    return number_is_bare && is_plain_number(*typed) ? *typed : quoted(*typed);
  if (const auto* is_on = std::get_if<bool>(&value)) return *is_on ? "true" : "false";
  if (const auto* list = std::get_if<std::vector<std::string>>(&value)) return list_of(*list);
  return toml_of(std::get<EndWish>(value));
}

TextEdit edit_for(const Text& text, const NewTable& table) {
  const std::string& content = text.content;
  const auto first = content.find('\n');
  const bool is_long = first != std::string::npos && first > 0 && content[first - 1] == '\r';
  const std::string line_break = is_long ? "\r\n" : "\n";
  std::string out;
  if (!content.empty() && content.back() != '\n') out += line_break;
  if (!content.empty()) out += line_break;
  out += fmt::format("[{}]{}", fmt::join(table.path, "."), line_break);
  for (const auto& [key, toml] : table.rows) out += fmt::format("{} = {}{}", key, toml, line_break);
  const auto end = static_cast<std::uint32_t>(content.size());
  return {{end, end}, std::move(out)};
}

bool is_name(const std::string& id) {
  constexpr std::size_t longest = 80;
  return id.size() <= longest && reading::is_name(id);
}

std::string free_name(const std::string& wanted, const std::vector<std::string>& taken) {
  const auto is_taken = [&](const std::string& name) {
    return std::find(taken.begin(), taken.end(), name) != taken.end();
  };
  if (!is_taken(wanted)) return wanted;
  std::size_t n = 2;
  while (is_taken(fmt::format("{}-{}", wanted, n))) ++n;
  return fmt::format("{}-{}", wanted, n);
}

std::vector<std::string> board_names_in(const Scope& scope) {
  std::vector<std::string> names;
  const auto add = [&](const auto& list) {
    for (const auto& decl : list) names.push_back(decl.name.text);
  };
  add(scope.boards);
  add(scope.panels);
  add(scope.copies);
  add(scope.uses);
  for (const CopyDecl& copy : scope.copies)
    for (const Name& name : copy.names) names.push_back(name.text);
  return names;
}

std::vector<std::string> board_names(const Document& document, const Resolved& piece) {
  std::vector<std::string> names = board_names_in(document.top);
  for (const ResolvedBoard& board : piece.boards) names.push_back(board.id);
  return names;
}

namespace {

// "2" of {"board", "leg", "runs", "0", "2"} is "up".
std::string spoken_item(const std::string& key, bool is_first, const std::string& item) {
  constexpr std::array<const char*, 3> ways = {"right", "away", "up"};
  if (item.size() != 1 || item[0] < '0' || item[0] > '9') return item;
  const auto number = static_cast<std::size_t>(item[0] - '0');
  if (key == "runs" && is_first) return number == 0 ? "from" : "to";
  if (key == "shift" && number < 2) return number == 0 ? "across" : "through";
  const bool is_place = key == "runs" || key == "at" || key == "step";
  return is_place && number < ways.size() ? ways[number] : fmt::format("{}", number + 1);
}

}  // namespace

std::string spoken_path(const KeyPath& path) {
  const bool is_inside = path.size() > 3 && path[0] == "assembly";
  const std::string whose = is_inside ? path[1] + "'s " : "";
  const KeyPath rest(path.begin() + (is_inside ? 2 : 0), path.end());
  if (rest.size() < 2) return fmt::format("{}", fmt::join(path, "."));
  if (rest.size() == 2) return fmt::format("{}{} {}", whose, rest[0], rest[1]);
  std::string words = whose + rest[1];
  if (rest[0] == "size" && rest[2] == "is") return words;
  words += ", " + rest[2];
  for (std::size_t i = 3; i < rest.size(); ++i)
    words += (i == 3 ? " " : ", ") + spoken_item(rest[2], i == 3, rest[i]);
  return words;
}

std::string typed_length(double mm, LengthUnit unit) {
  const Length length = Length::mm(std::abs(mm) < 1e-6 ? 0.0 : mm);
  // As a fraction when it is one of the trade's, else with as many digits as tell it apart.
  if (unit == LengthUnit::inch) {
    const Length to_64th = round_to(length, divide(Length::inches(1), 64));
    if (abs(to_64th - length) <= Length::ticks(2000)) {
      return format_length(to_64th, {.unit = unit, .finest = 64, .mark_unit = false});
    }
    std::string text = fmt::format("{:.4f}", length.in_inches());
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with(".")) text.pop_back();
    return text;
  }
  std::string text = fmt::format("{:.3f}", length.in_mm());
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with(".")) text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string toml_of(const PlaceWish& place, const Text& text, const Document& document,
                    const Resolved& piece) {
  if (const auto* point = std::get_if<AtPoint>(&place)) return quoted(point->name);
  if (const auto* three = std::get_if<AtFormulas>(&place))
    return list_of({three->typed[0], three->typed[1], three->typed[2]});
  const auto& pointed = std::get<Pointed>(place);
  for (const ResolvedPoint& point : piece.points) {
    if (point.at && norm(*point.at - pointed.world) < same_place) return quoted(point.name);
  }
  if (auto words = end_in_words(text, document, piece, pointed)) return *words;
  return figures(pointed.world, document.unit);
}

Diagnostic fault(std::string_view code, std::string message, std::string hint) {
  return {.code = code, .message = std::move(message), .hint = std::move(hint)};
}

bool Making::apply(Outcome<TextEdit> edit) {
  if (edit) {
    auto after = kw::apply(changed.text, *edit);
    if (after && after->content.size() <= most_bytes) {
      changed.text = *std::move(after);
      changed.edits.push_back(*std::move(edit));
      return true;
    }
    faults.push_back(fault("edit.too-large",
                           fmt::format("the file would be larger than {} bytes", most_bytes),
                           "make it shorter, or divide the piece into several files"));
    return false;
  }
  for (const Diagnostic& d : edit.diagnostics()) faults.push_back(d);
  return false;
}

void Making::add(const NewTable& table) {
  if (apply(edit_for(changed.text, table))) changed.made.push_back(table.path);
}

}  // namespace kw::changing
