// The pages of the bench listener. Private to server.
#pragma once

#include <string>

namespace kw::serving {

// Asks for the code; `words` say what was wrong with the last.
[[nodiscard]] std::string pair_page(const std::string& words);
// One page with the data (BenchData of the contract) in it.
[[nodiscard]] std::string bench_html(const std::string& data);

}  // namespace kw::serving
