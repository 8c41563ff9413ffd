#include "kerfwright/drawing/templates.h"
#include "kerfwright/planbook/editions.h"

namespace kw {

Book templates_book_of(const PlanData& data, const BookOptions& options) {
  const Resolved& piece = *data.piece;
  Book book{.title = piece.title + ": templates at full size",
            .author = piece.author,
            .licence = piece.licence,
            .buyer = options.buyer,
            .paper = options.paper};
  const TemplateStyle style{.page = text_area(options.paper), .length = options.length};
  for (Sheet& sheet : templates_of(piece, *data.bodies, *data.cut_list, style)) {
    book.blocks.emplace_back(NewPage{});
    book.blocks.emplace_back(std::move(sheet));
  }
  return book;
}

}  // namespace kw
