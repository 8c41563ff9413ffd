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

}  // namespace kw
