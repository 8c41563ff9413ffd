// The plan book: what is said of a piece, in order, and its pages as PDF.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "kerfwright/checks/survey.h"
#include "kerfwright/diag/outcome.h"
#include "kerfwright/drawing/sheets.h"
#include "kerfwright/parts/assembly.h"
#include "kerfwright/parts/closing.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/parts/setups.h"

namespace kw {

// Everything that the book tells of.
struct PlanData {
  const Resolved* piece = nullptr;
  const std::vector<Body>* bodies = nullptr;
  const std::vector<Clash>* clashes = nullptr;
  const CutList* cut_list = nullptr;
  const Closing* closing = nullptr;
  const std::vector<Setup>* setups = nullptr;
  const Sawing* sawing = nullptr;
  const Assembly* assembly = nullptr;
  const std::vector<Finding>* findings = nullptr;  // of the checks; null: none were made
};

struct Heading {
  std::string text = {};
  int level = 1;
};
struct Paragraph {
  std::string text = {};
  bool is_caution = false;
  double type = 1;  // how large, against the other paragraphs
};
// Something found: a bold lead, what is said of it, and what that rests on, set small.
struct Remark {
  std::string lead = {}, text = {}, basis = {};
};
struct Table {
  std::vector<std::string> heads = {};
  std::vector<std::vector<std::string>> rows = {};
  std::vector<Align> aligns = {};
};
struct NewPage {};
// The headings of level 1 that follow, with their pages; each line is a link.
struct Contents {};
using Block = std::variant<Heading, Paragraph, Remark, Table, Sheet, NewPage, Contents>;

enum class Paper : std::uint8_t { letter, a4 };

struct Book {
  std::string title = {}, author = {}, licence = {};
  std::string buyer = {};  // stamped at the foot of each page when not empty
  Paper paper = Paper::letter;
  double type = 1;     // how large paragraphs and tables are set, against the plan book
  bool fills = false;  // tables and sheets are set larger where their page has room for it
  std::vector<Block> blocks = {};
};

struct BookOptions {
  Paper paper = Paper::letter;
  LengthStyle length = {};
  bool with_mm = false;    // lists and words give millimetres beside inches, drawings do not
  std::string buyer = {};  // whose copy it is; "": nobody's
  std::string price = {};  // of the plan, on its sales sheet; "": none
};
[[nodiscard]] Book book_of(const PlanData& data, const BookOptions& options);

// What every page about sawing says.
inline constexpr std::string_view saw_caution =
    "Caution. Saws, routers and drills injure in an instant. Keep guards on, clamp small parts, "
    "cut them off the long board "
    "last, keep hands well clear of the blade, wear eye and ear protection, and collect the dust "
    "or wear a mask for it. "
    "Follow your machine's manual.";

// The sawing diagrams of a job, what is proved of them, and the order of work, at the end of a
// book.
void add_sawing(Book& book, const Job& job, const Sawing& sawing, const SheetStyle& style);

// The pages, with bookmarks, contents, links, page numbers, embedded fonts, and marks of structure
// (headings, paragraphs, tables, figures). Same book, same bytes: the file's
// dates are fixed. Error: io.no-pages when the library cannot make it.
[[nodiscard]] Outcome<std::string> to_pdf(const Book& book);

// Width and height of the printable area, mm.
[[nodiscard]] Vec2 text_area(Paper paper);

}  // namespace kw
