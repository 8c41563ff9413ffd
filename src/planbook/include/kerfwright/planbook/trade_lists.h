// The shop's books as tables.
#pragma once

#include "kerfwright/planbook/book.h"
#include "kerfwright/trade/cost.h"
#include "kerfwright/trade/journal.h"
#include "kerfwright/trade/pricing.h"

namespace kw {

// Boards on hand and reserved.
[[nodiscard]] Table rack_table(const trade::Books& books, LengthUnit unit,
                               const std::string& currency);
[[nodiscard]] Table orders_table(const trade::Books& books, const std::string& currency);
[[nodiscard]] Table batches_table(const trade::Books& books, const std::string& currency);
[[nodiscard]] Table prices_table(const trade::Books& books, LengthUnit unit,
                                 const std::string& currency);
[[nodiscard]] Table to_buy_table(const std::vector<trade::BoardsToBuy>& boards, LengthUnit unit,
                                 const std::string& currency);
// Accounts that are not empty; they sum to nothing.
[[nodiscard]] Table accounts_table(const trade::Books& books, const std::string& currency);
// What happened: "12 boards bought at Mill", "order of A. Reader: 2 x trestle".
[[nodiscard]] std::string story_of(const trade::Event& event, const std::string& currency);
// Every entry in words, and whether it stands.
[[nodiscard]] Table journal_table(const trade::Journal& journal, const std::string& currency);
[[nodiscard]] Table cost_table(const trade::Cost& cost, const std::string& currency);
[[nodiscard]] Table curve_table(const std::vector<trade::BatchPoint>& curve,
                                const std::string& currency);

}  // namespace kw
