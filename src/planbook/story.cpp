// Entries of the books in words.
#include <fmt/format.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/trade_lists.h"
#include "kerfwright/trade/board_code.h"

namespace kw {
namespace {

std::string boards(std::size_t count) {
  return count == 1 ? "1 board" : fmt::format("{} boards", count);
}

// "board 001Y", "12 boards"
std::string named(const std::vector<int>& numbers) {
  return numbers.size() == 1 ? "board " + trade::code_of(numbers.front()) : boards(numbers.size());
}

std::string behind(std::string_view lead, const std::string& text) {
  return text.empty() ? "" : std::string(lead) + text;
}

std::string facts_text(const trade::OrderFacts& facts) {
  return fmt::format("{}{} x {}", facts.buyer.empty() ? "" : facts.buyer + ": ", facts.count,
                     facts.piece);
}

struct Story {
  const std::string& currency;

  [[nodiscard]] std::string money(Money m) const { return written(m, currency); }

  std::string operator()(const trade::BoardsBought& e) const {
    return boards(e.boards.size()) + " bought" + behind(" at ", e.yard) +
           (e.batch == 0 ? "" : fmt::format(" for batch {}", e.batch));
  }
  std::string operator()(const trade::BoardsFound& e) const {
    return boards(e.boards.size()) + " put on the rack";
  }
  std::string operator()(const trade::BoardMeasured& e) const {
    return named({e.board}) + " measured again";
  }
  std::string operator()(const trade::BoardsReserved& e) const {
    return fmt::format("{} kept for batch {}", named(e.boards), e.batch);
  }
  std::string operator()(const trade::BoardsReleased& e) const {
    return named(e.boards) + " free again";
  }
  std::string operator()(const trade::BoardsGone& e) const {
    return named(e.boards) + " gone" + behind(": ", e.why);
  }
  std::string operator()(const trade::BoardsSawn& e) const {
    std::size_t offcuts = 0;
    for (const trade::SawnBoard& board : e.boards) offcuts += board.offcuts.size();
    return fmt::format("{} sawn for batch {}, {} offcuts kept", boards(e.boards.size()), e.batch,
                       offcuts);
  }
  std::string operator()(const trade::PriceSeen& e) const {
    return fmt::format("{} at {}{}", e.stock, money(e.price), behind(" at ", e.yard));
  }
  std::string operator()(const trade::OrderTaken& e) const {
    return "order of " + facts_text(e.facts);
  }
  std::string operator()(const trade::OrderChanged& e) const {
    return fmt::format("order {} changed: {}", e.order, facts_text(e.facts));
  }
  std::string operator()(const trade::OrderCancelled& e) const {
    return fmt::format("order {} cancelled{}", e.order, behind(": ", e.why));
  }
  std::string operator()(const trade::Quoted& e) const {
    return fmt::format("order {} quoted at {}", e.order, money(e.net + e.tax));
  }
  std::string operator()(const trade::Invoiced& e) const {
    return fmt::format("order {} invoiced, {}", e.order, money(e.net + e.tax));
  }
  std::string operator()(const trade::Paid& e) const {
    return fmt::format("{} {} for order {}", money(e.amount),
                       e.amount < Money() ? "paid back" : "paid", e.order);
  }
  std::string operator()(const trade::Delivered& e) const {
    return fmt::format("order {} delivered", e.order);
  }
  std::string operator()(const trade::BatchPlanned& e) const {
    std::string orders;
    for (const trade::Lot& lot : e.lots) {
      if (lot.order != 0) orders += fmt::format("{}{}", orders.empty() ? "" : ", ", lot.order);
    }
    return "batch" + behind(" ", e.name) + " planned" + behind(" for orders ", orders);
  }
  std::string operator()(const trade::OrderFromShelf& e) const {
    return fmt::format("order {} taken from batch {}", e.order, e.batch);
  }
  std::string operator()(const trade::BatchDropped& e) const {
    return fmt::format("batch {} given up", e.batch);
  }
  std::string operator()(const trade::PartsDone& e) const {
    return fmt::format("{} of part {} done in batch {}", e.count, e.part, e.batch);
  }
  std::string operator()(const trade::TimeLogged& e) const {
    return fmt::format("{:.0f} minutes at batch {}", e.minutes, e.batch);
  }
  std::string operator()(const trade::MoneySpent& e) const {
    return money(e.paid) + " spent" + behind(" on ", e.what);
  }
  std::string operator()(const trade::SuppliesUsed& e) const {
    return fmt::format("{} of supplies used for batch {}{}", money(e.value), e.batch,
                       behind(": ", e.what));
  }
  std::string operator()(const trade::OwnerPaid& e) const {
    return money(e.amount) + (e.amount < Money() ? " taken out" : " put in") + behind(": ", e.note);
  }
  std::string operator()(const trade::Undone& e) const {
    return fmt::format("entry {} undone", e.entry);
  }
};

}  // namespace

std::string story_of(const trade::Event& event, const std::string& currency) {
  return std::visit(Story{currency}, event);
}

}  // namespace kw
