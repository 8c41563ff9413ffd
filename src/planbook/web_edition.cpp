#include "web_edition.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/planbook/editions.h"

#include "markup.h"

namespace kw {
namespace {

constexpr std::string_view style_sheet = R"css(
:root { color-scheme: light dark; --paper: #fbf8f1; --ink: #2a2621; --line: #b9ae9c; --warn: #8a3b12; }
@media (prefers-color-scheme: dark) { :root { --paper: #201d1a; --ink: #ece5d8; --line: #6b6256; --warn: #f0a878; } }
body { margin: 0 auto; max-width: 62rem; padding: 1rem; background: var(--paper); color: var(--ink); font: 1rem/1.5 "DejaVu Sans", Verdana, sans-serif; }
h1 { font-size: 1.9rem; } h2 { border-top: 2px solid var(--line); padding-top: 1rem; margin-top: 2rem; }
.caution { border: 2px solid var(--warn); padding: .6rem .8rem; }
.table { overflow-x: auto; } table { border-collapse: collapse; font-size: .9rem; }
th, td { text-align: left; padding: .25rem .8rem .25rem 0; border-bottom: 1px solid var(--line); vertical-align: top; }
.right { text-align: right; }
figure { margin: 1rem 0; padding: .5rem; background: #fff; overflow-x: auto; } figure svg { display: block; margin: 0 auto; max-width: 100%; height: auto; }
#view canvas { width: 100%; height: min(70vh, 36rem); display: block; touch-action: none; cursor: grab; border: 1px solid var(--line); }
#view label { display: flex; gap: .8rem; align-items: center; margin: .5rem 0; } #view input { flex: 1; }
:focus-visible { outline: 3px solid var(--warn); outline-offset: 2px; }
a { color: inherit; }
)css";

// Text that stands inside a script element may not end it.
std::string in_script(std::string text) {
  for (std::size_t at = text.find("</"); at != std::string::npos; at = text.find("</", at + 3))
    text.replace(at, 2, "<\\/");
  return text;
}

}  // namespace

std::string web_edition(const PlanData& data, const BookOptions& options,
                        const std::string& scene) {
  const Book book = book_of(data, options);
  const auto& steps = data.assembly->steps;
  const auto of_whole = std::count_if(steps.begin(), steps.end(),
                                      [](const AssemblyStep& step) { return step.sub < 0; });
  std::string page =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  page += fmt::format("<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n<main>\n",
                      in_html(book.title), style_sheet);
  const std::string view = fmt::format(
      "<section id=\"view\" aria-label=\"The piece in three dimensions\">\n"
      "<canvas tabindex=\"0\" role=\"img\" aria-label=\"{0}. Arrow keys turn it, plus and minus "
      "come nearer, Home goes back.\"></canvas>\n"
      "<p class=\"none\" hidden>This browser shows no three-dimensional pictures; the drawings "
      "below "
      "show all.</p>\n"
      "<label>apart <input id=\"apart\" type=\"range\" min=\"0\" max=\"100\" value=\"0\"></label>\n"
      "<label>step <input id=\"step\" type=\"range\" min=\"0\" max=\"{1}\" value=\"{1}\"></label>\n"
      "<p id=\"said\" aria-live=\"polite\"></p>\n</section>\n",
      in_html(book.title), std::max<std::ptrdiff_t>(0, of_whole - 1));
  std::string told = to_html(book);
  told.insert(std::min(told.find("<figure"), told.size()), view);  // under title and note
  page += told;
  if (!book.buyer.empty()) page += "<p>This copy is for " + in_html(book.buyer) + ".</p>\n";
  page += "</main>\n<script>\nconst scene = " + in_script(scene) + ";\n";
  page += std::string(viewer_script()) + "</script>\n</body>\n</html>\n";
  return page;
}

}  // namespace kw
