#include "bench_page.h"

#include <fmt/core.h>

#include "pages.h"

namespace kw::serving {
namespace {

// JSON within a script: nothing in it may end the script (WHATWG HTML, 4.12.1.3).
std::string for_script(const std::string& json) {
  std::string out;
  for (const char c : json) {
    if (c == '<')
      out += "\\u003c";
    else
      out += c;
  }
  return out;
}

constexpr std::string_view style =
    "body{font:20px/1.4 sans-serif;margin:0;padding:16px;background:#f4efe4;color:#221f1a}"
    "button,input{font:inherit;min-height:56px;padding:8px 20px;border:2px solid "
    "#221f1a;border-radius:4px;background:#fff}"
    ":focus-visible{outline:4px solid #1c5a8a}.size{font-size:72px;font-weight:700;line-height:1.1}"
    ".row{display:flex;gap:12px;flex-wrap:wrap;margin:12px 0}.done{text-decoration:line-through}"
    "@media(prefers-color-scheme:dark){body{background:#201d18;color:#f0e9da}button,input{"
    "background:#2d2923;"
    "color:#f0e9da;border-color:#f0e9da}}";

}  // namespace

std::string pair_page(const std::string& words) {
  return fmt::format(
      "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width\"><title>Pair this phone</title><style>{}</style></head><body>"
      "<main><h1>Pair this phone</h1><p role=\"alert\">{}</p><form action=\"/bench\" "
      "method=\"get\">"
      "<label>Code shown by the workbench <input name=\"code\" inputmode=\"numeric\" "
      "pattern=\"[0-9]{{6}}\" maxlength=\"6\" autocomplete=\"off\" required></label> "
      "<button>Pair</button></form></main></body></html>",
      style, words);
}

std::string bench_html(const std::string& data) {
  constexpr std::string_view place = "__BENCH_DATA__";
  std::string page = built_in_pages().front().content;
  const std::size_t at = page.find(place);
  if (at != std::string::npos) page.replace(at, place.size(), for_script(data));
  return page;
}

}  // namespace kw::serving
