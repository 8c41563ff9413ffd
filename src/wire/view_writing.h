// What the sections of a view share. Private to wire.
#pragma once

#include <string>

#include "kerfwright/wire/view_json.h"

#include "json_writer.h"

namespace kw::wire {

// {"text", "value"}: as printed, and a number in the piece's unit.
void write_figure(JsonWriter& json, Length length, LengthUnit unit);
void write_figure(JsonWriter& json, const Value& value, LengthUnit unit);
[[nodiscard]] std::string kind_of(const Value& value);
// In inches, millimetres, degrees or as it is.
[[nodiscard]] double plain_number(const Value& value, LengthUnit unit);
[[nodiscard]] std::string text_of(const Value& value, LengthUnit unit);

// The text of a formula as it stands in the file.
[[nodiscard]] std::string typed(const Text& text, Span at);

void write_path(JsonWriter& json, const std::vector<std::string>& path);
void write_diagnostics(JsonWriter& json, const Text& text, const Utf16Index& index,
                       const Diagnostics& diagnostics);

// The sections.
[[nodiscard]] std::string sizes_json(const ViewData& data);
[[nodiscard]] std::string derived_json(const ViewData& data);
[[nodiscard]] std::string stocks_json(const ViewData& data);
[[nodiscard]] std::string points_json(const ViewData& data);
[[nodiscard]] std::string planes_json(const ViewData& data);
[[nodiscard]] std::string joints_json(const ViewData& data);
[[nodiscard]] std::string clashes_json(const ViewData& data);
[[nodiscard]] std::string parts_json(const ViewData& data);
[[nodiscard]] std::string totals_json(const ViewData& data);
[[nodiscard]] std::string files_json();

// The path of the table that a board is declared by, or is a copy of.
[[nodiscard]] std::vector<std::string> path_of_board(const ViewData& data,
                                                     const ResolvedBoard& board);
// That of the [joint]; empty when it is declared nowhere.
[[nodiscard]] std::vector<std::string> path_of_joint(const ViewData& data,
                                                     const ResolvedJoint& joint);
[[nodiscard]] std::string_view name_of(JointKind kind);
// "half-lap of `leg-a` and `leg-b`, 2 deck screw 8 x 1-1/4"
[[nodiscard]] std::string words_of(const Resolved& piece, const ResolvedJoint& joint);
// Marks, holes and further cuts of a part, in words with their printed figures.
[[nodiscard]] std::vector<std::string> marks_of(const Part& part, LengthUnit unit);
[[nodiscard]] std::string end_words(const Part& part, std::size_t end);
void write_joint(JsonWriter& json, const ViewData& data, const ResolvedJoint& joint);

template <class List, class Index>
[[nodiscard]] const auto& at(const List& list, Index index) {
  return list[static_cast<std::size_t>(index)];
}

}  // namespace kw::wire
