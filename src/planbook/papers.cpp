#include "kerfwright/planbook/papers.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/trade/board_code.h"
#include "kerfwright/trade/price_list.h"

namespace kw {
namespace {

Book paper_of(std::string title, const trade::ShopSettings& shop, const PaperOptions& options) {
  Book book{.title = std::move(title),
            .author = shop.name,
            .paper = options.paper,
            .type = 1.15,
            .fills = true};
  book.blocks.emplace_back(Heading{book.title, 0});
  if (!shop.name.empty()) book.blocks.emplace_back(Paragraph{.text = shop.name, .type = 1.1});
  if (!shop.address.empty()) book.blocks.emplace_back(Paragraph{shop.address});
  book.blocks.emplace_back(Paragraph{trade::format_day(options.today)});
  return book;
}

std::string sizes_text(const trade::OrderFacts& facts) {
  std::string text;
  for (const auto& [name, formula] : facts.sizes)
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", name, formula);
  return text;
}

// The piece, how many, each and together, the sum with its tax.
Table bill_of(const trade::Order& order, const Sum& sum, const trade::ShopSettings& shop,
              const PaperOptions& options) {
  const trade::OrderFacts& facts = order.facts;
  const auto money = [&](Money m) { return written(m, shop.currency); };
  std::string what = options.title.empty() ? facts.piece : options.title;
  if (const std::string sizes = sizes_text(facts); !sizes.empty()) what += ": " + sizes;
  Table table{.heads = {"what", "count", "each", "together"},
              .aligns = {Align::left, Align::right, Align::right, Align::right}};
  table.rows.push_back({what, fmt::format("{}", facts.count), money(facts.each), money(sum.net)});
  if (sum.tax != Money()) {
    table.rows.push_back(
        {fmt::format("tax, {:g} %", shop.selling.tax_percent), "", "", money(sum.tax)});
    table.rows.push_back({"in all", "", "", money(sum.all())});
  }
  return table;
}

constexpr double label_height = 28, label_gap = 2, inset = 3;
constexpr int columns = 3;

std::string size_text(const trade::BoardFacts& facts, LengthUnit unit) {
  const LengthStyle style{.unit = unit};
  std::string text;
  for (const Length side : {facts.thickness, facts.width}) {
    if (side > Length()) text += format_length(side, style) + " x ";
  }
  return text + format_length(facts.length, style);
}

void add_label(Sheet& sheet, Vec2 at, double width, const trade::RackedBoard& board,
               LengthUnit unit) {
  const Vec2 to = at + Vec2{width, label_height};
  sheet.strokes.push_back({Pen::frame, {at, {to.x, at.y}, to, {at.x, to.y}}, /*is_closed=*/true});
  double y = at.y + inset + 5;
  const auto line = [&](std::string text, double height, bool is_bold) {
    const Label label{{at.x + inset, y}, std::move(text), height, Align::left, 0, is_bold};
    if (!label.text.empty()) sheet.labels.push_back(label);
    y += height * 1.3;
  };
  const trade::BoardFacts& facts = board.facts;
  line(trade::code_of(board.number), 7, true);
  std::string what = facts.stock;
  if (!facts.species.empty()) what += (what.empty() ? "" : " ") + facts.species;
  line(what, 2.8, false);
  line(size_text(facts, unit), 2.8, true);
  std::string more;
  for (const auto& [from, end] : facts.faults)
    more += fmt::format("{}fault {} to {}", more.empty() ? "" : "; ",
                        format_length(from, {.unit = unit}), format_length(end, {.unit = unit}));
  if (facts.moisture)
    more += fmt::format("{}{:g} % moist", more.empty() ? "" : "; ", *facts.moisture);
  line(more, 2.4, false);
}

}  // namespace

Sum sum_of(const trade::OrderFacts& order, const trade::ShopSettings& shop) {
  const Money net = order.each * order.count;
  return {net, trade::part_of(net, shop.selling.tax_percent / 100)};
}

Book quote_of(const trade::Order& order, const trade::ShopSettings& shop,
              const PaperOptions& options) {
  const Sum sum =
      order.quoted ? Sum{order.quoted->net, order.quoted->tax} : sum_of(order.facts, shop);
  const trade::Day until =
      order.quoted ? order.quoted->valid_until : options.today + shop.quote_days;
  Book book = paper_of(fmt::format("Quote {}", order.number), shop, options);
  book.blocks.emplace_back(Paragraph{"For " + order.facts.buyer});
  book.blocks.emplace_back(bill_of(order, sum, shop, options));
  if (order.facts.due) {
    book.blocks.emplace_back(
        Paragraph{fmt::format("To be ready on {}.", trade::format_day(*order.facts.due))});
  }
  book.blocks.emplace_back(
      Paragraph{fmt::format("This quote holds until {}.", trade::format_day(until))});
  if (!order.facts.note.empty()) book.blocks.emplace_back(Paragraph{order.facts.note});
  return book;
}

Book invoice_of(const trade::Order& order, const trade::ShopSettings& shop,
                const PaperOptions& options) {
  const Sum sum =
      order.invoiced ? Sum{order.invoiced->net, order.invoiced->tax} : sum_of(order.facts, shop);
  Book book = paper_of(fmt::format("Invoice {}", order.number), shop, options);
  book.blocks.emplace_back(Paragraph{"To " + order.facts.buyer});
  Table bill = bill_of(order, sum, shop, options);
  if (order.paid != Money()) {
    bill.rows.push_back({"paid", "", "", written(order.paid, shop.currency)});
    bill.rows.push_back({"to pay", "", "", written(sum.all() - order.paid, shop.currency)});
  }
  book.blocks.emplace_back(std::move(bill));
  if (order.delivered) {
    book.blocks.emplace_back(
        Paragraph{fmt::format("Delivered on {}.", trade::format_day(*order.delivered))});
  }
  return book;
}

Book labels_of(const std::vector<trade::RackedBoard>& boards, LengthUnit unit, Paper paper) {
  Book book{.title = "Labels of boards", .paper = paper};
  const Vec2 area = text_area(paper);
  const double width = (area.x - (columns - 1) * label_gap) / columns;
  const int rows = static_cast<int>((area.y - 6) / (label_height + label_gap));
  const std::size_t on_page = static_cast<std::size_t>(rows * columns);
  for (std::size_t first = 0; first < boards.size(); first += on_page) {
    Sheet sheet{.name = fmt::format("labels-{}", first / on_page + 1),
                .title = "Labels",
                .width = area.x,
                .height = rows * (label_height + label_gap),
                .is_full_size = true};
    for (std::size_t i = first; i < std::min(boards.size(), first + on_page); ++i) {
      const auto place = static_cast<int>(i - first);
      add_label(
          sheet,
          {place % columns * (width + label_gap), place / columns * (label_height + label_gap)},
          width, boards[i], unit);
    }
    book.blocks.emplace_back(std::move(sheet));
  }
  return book;
}

}  // namespace kw
