// The pages that a buyer sees: plain HTML without scripts. Private to server.
#pragma once

#include "kerfwright/store/job_table.h"

#include "fit_order.h"

namespace kw::serving {

[[nodiscard]] std::string list_page(const std::vector<PublishedPiece>& pieces);
// The form, with what was typed and what is wrong with it.
[[nodiscard]] std::string form_page(const Offer& offer, const Form& typed,
                                    const std::map<std::string, Diagnostic>& faults);
// Where a book is: `before` it others wait.
[[nodiscard]] std::string book_page(const JobSlip& job, std::int64_t before);
// Words alone, and the way out.
[[nodiscard]] std::string words_page(const std::string& title, const Diagnostic& why);

}  // namespace kw::serving
