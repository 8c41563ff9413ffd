#include <fmt/format.h>

#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"

#include "chapters.h"

namespace kw {

Book listing_of(const PlanData& data, const BookOptions& options) {
  const Resolved& piece = *data.piece;
  const Job job = job_of(piece, *data.cut_list);
  LengthStyle style = options.length;
  style.with_mm = options.with_mm;
  Book book{.title = piece.title, .author = piece.author, .licence = piece.licence};
  const auto add = [&](auto block) { book.blocks.emplace_back(std::move(block)); };
  add(Heading{piece.title, 0});
  if (!piece.note.empty()) add(Paragraph{piece.note});
  add(
      Paragraph{fmt::format("{} boards of {} kinds; {} drawings of parts with every mark from the "
                            "hook end, saw settings, "
                            "a sawing plan and {} steps.",
                            data.bodies->size(), data.cut_list->parts.size(),
                            data.cut_list->parts.size(), data.assembly->steps.size())});
  add(Heading{"Facts"});
  add(facts_table(data, style));
  add(Heading{"Cut list"});
  add(cut_list_table(data, style));
  add(Heading{"What to buy"});
  add(buying_table(job, *data.sawing, style));
  const Table hardware = hardware_table(job, style);
  if (!hardware.rows.empty()) add(hardware);
  add(Heading{"Tools"});
  add(Paragraph{tools_for(data, style)});
  add(
      Paragraph{"Computed under the assumptions that the plan names. Saws and loads can hurt: keep "
                "to your machine's manual and your local code.",
                true});
  if (!piece.author.empty() || !piece.licence.empty()) {
    add(Paragraph{fmt::format("{}{}{}", piece.author,
                              piece.author.empty() || piece.licence.empty() ? "" : ". ",
                              piece.licence)});
  }
  return book;
}

Book sales_sheet_of(const PlanData& data, const BookOptions& options) {
  const Resolved& piece = *data.piece;
  LengthStyle style = options.length;
  style.with_mm = options.with_mm;
  Book book{.title = piece.title,
            .author = piece.author,
            .licence = piece.licence,
            .buyer = options.buyer,
            .paper = options.paper};
  const auto add = [&](auto block) { book.blocks.emplace_back(std::move(block)); };
  add(Heading{piece.title, 0});
  if (!piece.note.empty()) add(Paragraph{.text = piece.note, .type = 1.3});
  const Vec2 area = text_area(options.paper);
  add(overall_sheet(piece, *data.bodies, *data.cut_list,
                    {.width = area.x, .tallest = area.y * 0.42, .length = options.length}));
  add(facts_table(data, style));
  const bool has_templates = !templates_book_of(data, options).blocks.empty();
  add(Paragraph{fmt::format(
      "In the plan: {} part drawings with every mark from the hook end, saw settings, a sawing "
      "plan "
      "and a buying list, {} steps with pictures, what the checks found with its sources{}; as PDF "
      "and as a page for a browser with the piece to turn and take apart.",
      data.cut_list->parts.size(), data.assembly->steps.size(),
      has_templates ? ", templates at full size" : "")});
  if (!options.price.empty())
    add(Paragraph{.text = "Price of the plan: " + options.price, .type = 1.3});
  add(Paragraph{std::string(saw_caution), true});
  return book;
}

}  // namespace kw
