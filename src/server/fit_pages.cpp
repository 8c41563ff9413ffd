#include "fit_pages.h"

#include <algorithm>
#include <fmt/core.h>

#include "kerfwright/diag/markup.h"

namespace kw::serving {

namespace {

constexpr std::string_view style = R"(
:root { color-scheme: light dark; --paper: #fffdf8; --ink: #1d1b17; --pencil: #554f44; --line: #b7ab93;
  --blue: #17496e; --on-blue: #fff; --red: #8c1d18; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #1a1b1d; --ink: #f6f0e2; --pencil: #bdb6a6; --line: #5f6167; --blue: #93c6e8;
    --on-blue: #10202c; --red: #ffb4ab; } }
body { margin: 0 auto; max-width: 40rem; padding: 1.5rem 1rem 4rem; background: var(--paper); color: var(--ink);
  font: 1.05rem/1.5 system-ui, sans-serif; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .5rem; }
p, .hint { margin: 0 0 1rem; } .hint { color: var(--pencil); font-size: .95rem; }
label, legend { font-weight: 600; display: block; margin-top: 1.2rem; }
input, select { font: inherit; width: 100%; box-sizing: border-box; padding: .6rem; min-height: 2.75rem;
  background: var(--paper); color: var(--ink); border: 1px solid var(--line); border-radius: .25rem; }
[aria-invalid] { border: 2px solid var(--red); } .fault { color: var(--red); margin: .25rem 0 0; font-weight: 600; }
button, a.button { display: inline-block; font: inherit; font-weight: 600; margin-top: 1.5rem; padding: .7rem 1.4rem;
  background: var(--blue); color: var(--on-blue); border: 0; border-radius: .25rem; text-decoration: none; }
a { color: var(--blue); } a.button { color: var(--on-blue); }
:focus-visible { outline: 3px solid var(--blue); outline-offset: 2px; }
li { margin: .4rem 0; } details { margin-top: 1.5rem; } pre { white-space: pre-wrap; font: inherit; }
)";

constexpr std::string_view caution =
    "The book is worked out for the sizes that you choose, under the assumptions that it states. "
    "It "
    "does not take the place of local rules or of licensed practice where people could be hurt.";

std::string page(std::string_view title, std::string_view body, std::string_view head = "") {
  return fmt::format(
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta "
      "name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n"
      "{}<style>{}</style>\n</head>\n<body>\n<main>\n{}</main>\n</body>\n</html>\n",
      in_markup(title), head, style, body);
}

// What is wrong with a field, for its input, and behind it.
struct Wrong {
  std::string mark = {}, words = {};
};
Wrong wrong_with(const std::string& field, const std::map<std::string, Diagnostic>& faults) {
  const auto fault = faults.find(field);
  if (fault == faults.end()) return {};
  return {" aria-invalid=\"true\"",
          fmt::format("<p class=\"fault\" id=\"{0}-fault\">{1}: {2}</p>\n", in_markup(field),
                      in_markup(fault->second.message), in_markup(fault->second.hint))};
}

std::string typed_or(const Form& typed, const std::string& field, std::string otherwise) {
  const auto found = typed.find(field);
  return found == typed.end() ? std::move(otherwise) : found->second;
}

std::string size_field(const Offer& offer, const OfferedSize& size, const Form& typed,
                       const std::map<std::string, Diagnostic>& faults) {
  const std::string field = "size." + size.name;
  const Wrong wrong = wrong_with(field, faults);
  const std::string bare = size.is.dimension != a_length    ? ""
                           : offer.unit == LengthUnit::inch ? "; a bare figure is in inches"
                                                            : "; a bare figure is in millimetres";
  return fmt::format(
      "<label for=\"{0}\">{1}</label>\n<input id=\"{0}\" name=\"{0}\" value=\"{2}\" "
      "maxlength=\"60\" "
      "autocomplete=\"off\" required aria-describedby=\"{0}-hint{3}\"{4}>\n{5}<p class=\"hint\" "
      "id=\"{0}-hint\">{6}{7} to {8}{9}</p>\n",
      in_markup(field), in_markup(size.name),
      in_markup(typed_or(typed, field, words_of(size.is, offer.unit))),
      wrong.mark.empty() ? "" : " " + in_markup(field) + "-fault", wrong.mark, wrong.words,
      size.note.empty() ? "" : in_markup(size.note) + ": ",
      in_markup(words_of(size.least, offer.unit)), in_markup(words_of(size.most, offer.unit)),
      bare);
}

std::string choice(const std::string& field, const std::string& label, const std::string& chosen,
                   const std::vector<std::pair<std::string, std::string>>& all,
                   const Wrong& wrong) {
  std::string options;
  for (const auto& [value, words] : all)
    options += fmt::format("<option value=\"{}\"{}>{}</option>", value,
                           value == chosen ? " selected" : "", words);
  return fmt::format(
      "<label for=\"{0}\">{1}</label>\n<select id=\"{0}\" name=\"{0}\"{2}>{3}</select>\n{4}", field,
      label, wrong.mark, options, wrong.words);
}

// How much is to be put right, and what no field of the page is for.
std::string told_of(const Offer& offer, const std::map<std::string, Diagnostic>& faults) {
  if (faults.empty()) return "";
  std::string words =
      faults.size() == 1 ? "One thing is" : fmt::format("{} things are", faults.size());
  words = fmt::format("<p class=\"fault\" role=\"alert\">{} to put right below.</p>\n", words);
  for (const auto& [field, fault] : faults) {
    const bool is_size =
        std::any_of(offer.sizes.begin(), offer.sizes.end(),
                    [&f = field](const OfferedSize& s) { return f == "size." + s.name; });
    if (!is_size && field != "unit" && field != "paper" && field != "buyer")
      words += fmt::format("<p class=\"fault\">{}: {}</p>\n", in_markup(field.substr(0, 40)),
                           in_markup(fault.message));
  }
  return words;
}

}  // namespace

std::string list_page(const std::vector<PublishedPiece>& pieces) {
  std::string items;
  for (const PublishedPiece& piece : pieces)
    items += fmt::format("<li><a href=\"/fit/{0}\">{1}</a></li>\n", in_markup(piece.name),
                         in_markup(piece.title.empty() ? piece.name : piece.title));
  return page("Plans that fit",
              fmt::format("<h1>Plans that fit</h1>\n{}",
                          items.empty() ? "<p>Nothing is offered at the moment.</p>\n"
                                        : "<p>Choose a piece, and set its sizes to suit your "
                                          "place.</p>\n<ul>\n" +
                                              items + "</ul>\n"));
}

std::string form_page(const Offer& offer, const Form& typed,
                      const std::map<std::string, Diagnostic>& faults) {
  std::string fields;
  for (const OfferedSize& size : offer.sizes) fields += size_field(offer, size, typed, faults);
  const std::string unit = offer.unit == LengthUnit::mm ? "mm" : "in";
  fields += choice("unit", "Figures of the book in", typed_or(typed, "unit", unit),
                   {{"in", "inches"}, {"mm", "millimetres"}}, wrong_with("unit", faults));
  fields += choice("paper", "Paper", typed_or(typed, "paper", unit == "mm" ? "a4" : "letter"),
                   {{"letter", "Letter"}, {"a4", "A4"}}, wrong_with("paper", faults));
  const Wrong wrong = wrong_with("buyer", faults);
  fields += fmt::format(
      "<label for=\"buyer\">Your name, at the foot of each page (may stay empty)</label>\n<input "
      "id=\"buyer\" name=\"buyer\" maxlength=\"120\" autocomplete=\"name\" value=\"{}\"{}>\n{}",
      in_markup(typed_or(typed, "buyer", "")), wrong.mark, wrong.words);
  const std::string title = offer.piece.title.empty() ? offer.piece.name : offer.piece.title;
  const std::string terms =
      offer.piece.terms.empty()
          ? ""
          : fmt::format("<details><summary>Terms</summary><pre>{}</pre></details>\n",
                        in_markup(offer.piece.terms));
  return page(title, fmt::format("<h1>{}</h1>\n<p>Set the sizes, and get the plan book made for "
                                 "them.</p>\n{}<form method=\"post\">\n{}<button>Make the plan "
                                 "book</button>\n</form>\n<p class=\"hint\">{}</p>\n{}",
                                 in_markup(title), told_of(offer, faults), fields, caution, terms));
}

std::string book_page(const JobSlip& job, std::int64_t before) {
  if (job.state == JobState::done)
    return page("Your plan book",
                fmt::format("<h1>Your plan book is ready</h1>\n<a class=\"button\" "
                            "href=\"/book/{}/plan.pdf\">Take the plan book (PDF)</a>\n<p "
                            "class=\"hint\">Keep it now: it is not stored for long.</p>\n",
                            in_markup(job.id)));
  if (job.state == JobState::failed)
    return page("No plan book", fmt::format("<h1>The book could not be made</h1>\n<p>{}</p>\n<p><a "
                                            "href=\"/fit\">Choose other sizes</a></p>\n",
                                            in_markup(job.made)));
  const std::string words = job.state == JobState::taken ? "It is being worked out now."
                            : before == 0                ? "Yours is next."
                                                         : fmt::format("{} before yours.", before);
  return page("Your plan book is being made",
              fmt::format("<h1>Your plan book is being made</h1>\n<p role=\"status\">{}</p>\n<p "
                          "class=\"hint\">This page looks again by itself. Its address is yours: "
                          "who has it can take the book.</p>\n",
                          words),
              "<meta http-equiv=\"refresh\" content=\"2\">\n");
}

std::string words_page(const std::string& title, const Diagnostic& why) {
  return page(title, fmt::format("<h1>{}</h1>\n<p>{}</p>\n<p>{}</p>\n<p><a href=\"/fit\">All that "
                                 "is offered</a></p>\n",
                                 in_markup(title), in_markup(why.message), in_markup(why.hint)));
}

}  // namespace kw::serving
