#include "markup.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/diag/markup.h"
#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"

#include "figures.h"

namespace kw {
namespace {

// CommonMark: what would be read as markup in a line of text or a cell.
std::string in_markdown(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (std::string_view("\\`*_[]<>|#").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

bool is_right(const Table& table, std::size_t column) {
  return column < table.aligns.size() && table.aligns[column] == Align::right;
}

std::string markdown_row(const std::vector<std::string>& cells) {
  std::string row = "|";
  for (const std::string& cell : cells) row += " " + in_markdown(cell) + " |";
  return row + "\n";
}

struct ToMarkdown {
  std::string& out;
  void operator()(const Heading& h) const {
    out += std::string(static_cast<std::size_t>(h.level) + 1, '#') + " " + in_markdown(h.text) +
           "\n\n";
  }
  void operator()(const Paragraph& p) const {
    out += (p.is_caution ? "> " : "") + in_markdown(p.text) + "\n\n";
  }
  void operator()(const Remark& r) const {
    out += fmt::format("**{}** {} *{}*\n\n", in_markdown(r.lead), in_markdown(r.text),
                       in_markdown(r.basis));
  }
  void operator()(const Table& t) const {
    out += markdown_row(t.heads) + "|";
    for (std::size_t i = 0; i < t.heads.size(); ++i) out += is_right(t, i) ? " ---: |" : " --- |";
    out += "\n";
    for (const auto& row : t.rows) out += markdown_row(row);
    out += "\n";
  }
  void operator()(const Sheet&) const {}
  void operator()(const NewPage&) const {}
  void operator()(const Contents&) const {}
};

struct ToPlain {
  std::string& out;
  void operator()(const Heading& h) const {
    out += h.text + "\n" + std::string(h.text.size(), h.level == 0 ? '=' : '-') + "\n\n";
  }
  void operator()(const Paragraph& p) const { out += p.text + "\n\n"; }
  void operator()(const Remark& r) const {
    out += r.lead + " " + r.text + "\n  " + r.basis + "\n\n";
  }
  void operator()(const Table& t) const { out += to_text(t) + "\n"; }
  void operator()(const Sheet&) const {}
  void operator()(const NewPage&) const {}
  void operator()(const Contents&) const {}
};

struct ToHtml {
  std::string& out;
  int& headings;
  const Book& book;

  void operator()(const Heading& h) const {
    out += fmt::format("<h{0} id=\"h{1}\">{2}</h{0}>\n", h.level + 1, headings++, in_html(h.text));
  }
  void operator()(const Paragraph& p) const {
    out += fmt::format("<p{}>{}</p>\n", p.is_caution ? " class=\"caution\"" : "", in_html(p.text));
  }
  void operator()(const Remark& r) const {
    out += fmt::format("<p><strong>{}</strong> {}<br><small>{}</small></p>\n", in_html(r.lead),
                       in_html(r.text), in_html(r.basis));
  }
  void row(const Table& t, const std::vector<std::string>& cells, std::string_view tag) const {
    out += "<tr>";
    for (std::size_t i = 0; i < cells.size(); ++i) {
      out += fmt::format("<{0}{1}>{2}</{0}>", tag, is_right(t, i) ? " class=\"right\"" : "",
                         in_html(cells[i]));
    }
    out += "</tr>\n";
  }
  void operator()(const Table& t) const {
    if (t.heads.empty()) return;
    out += "<div class=\"table\" tabindex=\"0\"><table>\n<thead>";
    row(t, t.heads, "th");
    out += "</thead>\n<tbody>\n";
    for (const auto& cells : t.rows) row(t, cells, "td");
    out += "</tbody></table></div>\n";
  }
  void operator()(const Sheet& s) const {
    std::string svg = to_svg(s);
    svg.erase(0, svg.find("<svg"));
    out += fmt::format("<figure aria-label=\"{}\">{}</figure>\n", in_html(s.title), svg);
  }
  void operator()(const NewPage&) const {}
  void operator()(const Contents&) const {
    out += "<nav aria-label=\"Contents\"><ol>\n";
    int index = 0;
    for (const Block& block : book.blocks) {
      const Heading* h = std::get_if<Heading>(&block);
      if (h == nullptr) continue;
      if (h->level == 1)
        out += fmt::format("<li><a href=\"#h{}\">{}</a></li>\n", index, in_html(h->text));
      ++index;
    }
    out += "</ol></nav>\n";
  }
};

}  // namespace

std::string in_html(std::string text) {
  for (std::size_t i = text.size(); i-- > 0;) {
    if (is_within_figure(text, i)) text.replace(i, 1, "\u00A0");
  }
  return in_markup(text);
}

std::string to_markdown(const Book& book) {
  std::string out;
  for (const Block& block : book.blocks) std::visit(ToMarkdown{out}, block);
  return out;
}

std::string to_plain(const Book& book) {
  std::string out;
  for (const Block& block : book.blocks) std::visit(ToPlain{out}, block);
  return out;
}

std::string to_html(const Book& book) {
  std::string out;
  int headings = 0;
  for (const Block& block : book.blocks) std::visit(ToHtml{out, headings, book}, block);
  return out;
}

}  // namespace kw
