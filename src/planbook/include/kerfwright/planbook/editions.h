// The other forms in which a piece is published: bench sheets, a listing for a shop page or a
// video's description, and the plan as one page for the web.
#pragma once

#include <string>

#include "kerfwright/planbook/book.h"

namespace kw {

// One page a board, with what is sawn off it in order, and one a set-up: to pin beside the saw.
[[nodiscard]] Book bench_sheets_of(const PlanData& data, const BookOptions& options);

// Templates at full size, a page each; no blocks when the piece needs none. To be printed at 100 %.
[[nodiscard]] Book templates_book_of(const PlanData& data, const BookOptions& options);

// One page that sells the plan: the piece, its facts, what is in the plan, its price if one is
// given.
[[nodiscard]] Book sales_sheet_of(const PlanData& data, const BookOptions& options);

// What a stranger wants to know before he buys: what it is, facts, cut list, what to buy, tools,
// licence.
[[nodiscard]] Book listing_of(const PlanData& data, const BookOptions& options);

// A book as text; drawings are left out. Markdown as CommonMark with tables.
[[nodiscard]] std::string to_markdown(const Book& book);
[[nodiscard]] std::string to_plain(const Book& book);
// As HTML elements, drawings as inline SVG; no page around them.
[[nodiscard]] std::string to_html(const Book& book);

// The book as one HTML page that needs nothing else, with the piece in three dimensions to turn,
// draw apart and put together step by step. `scene`: JSON as `scene_json` (wire) makes it.
[[nodiscard]] std::string web_edition(const PlanData& data, const BookOptions& options,
                                      const std::string& scene);

}  // namespace kw
