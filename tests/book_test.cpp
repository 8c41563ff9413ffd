// The plan book of every starter, judged by other people's programs: qpdf for the file's structure,
// poppler for its fonts and its text.
#include <array>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fmt/core.h>
#include <fstream>
#include <gtest/gtest.h>
#include <regex>
#include <sstream>
#include <unistd.h>

#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/steps.h"
#include "kerfwright/wire/scene_json.h"

#include "bench_piece.h"
#include "edition.h"

namespace kw {
namespace {

namespace fs = std::filesystem;

// What a command prints, both streams; its exit code goes to `code`.
std::string output_of(const std::string& command, int& code) {
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return "";
  std::string out;
  std::array<char, 4096> part = {};
  while (std::fgets(part.data(), static_cast<int>(part.size()), pipe) != nullptr)
    out += part.data();
  code = pclose(pipe);
  return out;
}

// Without white space: poppler guesses it from gaps, and a wrapped cell has a line break in it.
std::string solid(const std::string& text) {
  std::string letters;
  for (const char c : text) {
    if (std::isspace(static_cast<unsigned char>(c)) == 0) letters += c;
  }
  return letters;
}

class Book : public testing::TestWithParam<std::tuple<std::string, LengthUnit>> {
 protected:
  void SetUp() override { ASSERT_FALSE(edition_.pdf.empty()); }

  const test::Edition& edition_ = test::edition_of(GetParam());
};

TEST_P(Book, IsWholeForQpdf) {
  int code = -1;
  const std::string said = output_of("qpdf --check " + edition_.path.string(), code);
  EXPECT_EQ(code, 0) << said;
  EXPECT_EQ(said.find("WARNING"), std::string::npos) << said;
}

TEST_P(Book, EmbedsEveryFont) {
  int code = -1;
  const std::string fonts = output_of("pdffonts " + edition_.path.string(), code);
  ASSERT_EQ(code, 0) << fonts;
  int rows = 0;
  std::istringstream lines(fonts);
  for (std::string line; std::getline(lines, line);) {
    if (line.find("DejaVu") == std::string::npos) continue;
    EXPECT_NE(line.find("yes yes"), std::string::npos) << line;  // embedded, subset
    ++rows;
  }
  EXPECT_GE(rows, 1) << fonts;
}

TEST_P(Book, PrintsTheNumbersOfTheCutList) {
  int code = -1;
  const std::string text =
      solid(output_of("pdftotext -layout " + edition_.path.string() + " -", code));
  ASSERT_EQ(code, 0);
  const LengthStyle style{.unit = std::get<1>(GetParam())};
  const PlanData data = edition_.data();
  for (const Table& table :
       {cut_list_table(data, style),
        buying_table(job_of(edition_.snapshot.piece, edition_.snapshot.cut_list),
                     edition_.plan.sawing, style)}) {
    for (const auto& row : table.rows) {
      for (const std::string& cell : row) {
        EXPECT_NE(text.find(solid(cell)), std::string::npos) << cell;
      }
    }
  }
  for (const Part& part : edition_.snapshot.cut_list.parts) {
    for (const Mark& mark : part.marks) {
      for (const Opening& opening : mark.openings) {
        if (opening.side != Side::front || opening.near_from < 0) continue;
        const auto& f = part.figures.at(static_cast<std::size_t>(opening.near_from));
        const std::string figure = format_length(f.printed, style);
        EXPECT_NE(text.find(solid(figure)), std::string::npos) << part.letter << " " << figure;
      }
    }
  }
}

// The contents name the page on which poppler finds the heading, and the file has a link there.
TEST_P(Book, ContentsNameTheRightPages) {
  int code = -1;
  const std::string text = output_of("pdftotext -layout " + edition_.path.string() + " -", code);
  ASSERT_EQ(code, 0);
  std::vector<std::string> pages = {""};
  for (const char c : text) {
    if (c == '\f')
      pages.emplace_back();
    else
      pages.back() += c;
  }
  const auto& [name, unit] = GetParam();
  int checked = 0;
  for (const std::string heading : {"Before you begin", "Cut list", "Putting it together"}) {
    const std::size_t at = pages.front().find(heading);
    ASSERT_NE(at, std::string::npos) << heading;
    const std::size_t end = pages.front().find('\n', at);
    const std::string line = pages.front().substr(at, end - at);
    const auto page = static_cast<std::size_t>(std::stoi(line.substr(line.find_last_of(' ') + 1)));
    ASSERT_LE(page, pages.size()) << line;
    EXPECT_NE(pages[page - 1].find(heading), std::string::npos) << name << ": " << line;
    ++checked;
  }
  EXPECT_EQ(checked, 3);
  const std::string raw =
      output_of("qpdf --qdf --object-streams=disable " + edition_.path.string() + " -", code);
  EXPECT_NE(raw.find("/Subtype /Link"), std::string::npos);
}

// Headings, paragraphs and the first cells of tables come out of the file one after another as they
// stand in the book.
TEST_P(Book, IsReadInItsOrder) {
  int code = -1;
  const std::string text = solid(output_of("pdftotext " + edition_.path.string() + " -", code));
  std::size_t at = 0;
  int held = 0;
  const auto expect_next = [&](const std::string& words) {
    const std::size_t found = text.find(solid(words), at);
    ASSERT_NE(found, std::string::npos) << words;
    at = found + solid(words).size();
    ++held;
  };
  const LengthStyle style{.unit = std::get<1>(GetParam())};
  const auto blocks = book_of(edition_.data(), {.length = style}).blocks;
  for (const Block& block : blocks) {
    if (const auto* heading = std::get_if<Heading>(&block)) expect_next(heading->text);
    // A paragraph may be broken by the foot of a page: its first words do.
    if (const auto* words = std::get_if<Paragraph>(&block)) expect_next(words->text.substr(0, 40));
    if (const auto* table = std::get_if<Table>(&block)) {
      if (!table->rows.empty()) expect_next(table->rows.front().front());
    }
  }
  EXPECT_GE(held, 25);
}

TEST_P(Book, TellsEveryStep) {
  int code = -1;
  const std::string text =
      solid(output_of("pdftotext -layout " + edition_.path.string() + " -", code));
  const LengthStyle style{.unit = std::get<1>(GetParam())};
  for (const ToldStep& step : steps_of(edition_.data(), style)) {
    for (const std::string& line : step.lines)
      EXPECT_NE(text.find(solid(line)), std::string::npos) << line;
  }
}

TEST_P(Book, TellsEveryFinding) {
  int code = -1;
  const std::string text = solid(output_of("pdftotext " + edition_.path.string() + " -", code));
  EXPECT_FALSE(edition_.plan.findings.empty());
  for (const Finding& f : edition_.plan.findings) {
    const std::string begin = f.message.substr(0, std::min<std::size_t>(30, f.message.find('`')));
    EXPECT_NE(text.find(solid(begin)), std::string::npos) << begin;
    EXPECT_NE(text.find(solid(f.number)), std::string::npos) << f.number;
    if (f.verdict == Verdict::passes) continue;
    EXPECT_NE(text.find(solid(f.number + ", limit " + f.limit)), std::string::npos) << f.limit;
    EXPECT_NE(text.find(solid(f.source.substr(0, 40))), std::string::npos) << f.source;
  }
}

TEST_P(Book, IsTheSameBytesEachTime) {
  const LengthStyle style{.unit = std::get<1>(GetParam())};
  const PlanData data = edition_.data();
  EXPECT_EQ(*to_pdf(book_of(data, {.length = style})), *to_pdf(book_of(data, {.length = style})));
  EXPECT_EQ(web_edition(data, {.length = style}, scene_json(data, style)),
            web_edition(data, {.length = style}, scene_json(data, style)));
}

INSTANTIATE_TEST_SUITE_P(Editions, Book,
                         testing::Combine(testing::ValuesIn(test::starters()),
                                          testing::ValuesIn(test::units())));

struct Published {
  Snapshot snapshot = {};
  ShopPlan plan = {};
};

Published trestle() {
  Published p{test::made(test::starter("trestle").content)};
  p.plan = plan_of(p.snapshot, {.seconds = 1});
  return p;
}

TEST(Editions, StampTheBuyerOnEveryPage) {
  const Published p = trestle();
  const auto pdf = to_pdf(book_of(data_of(p.snapshot, p.plan), {.buyer = "Sample Buyer"}));
  ASSERT_TRUE(pdf);
  const fs::path path =
      fs::temp_directory_path() / ("kw-buyer-" + std::to_string(getpid()) + ".pdf");
  std::ofstream(path, std::ios::binary) << *pdf;
  int code = -1;
  const std::string text = output_of("pdftotext " + path.string() + " -", code);
  fs::remove(path);
  const auto count = [&](const std::string& what) {
    std::ptrdiff_t n = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1))
      ++n;
    return n;
  };
  EXPECT_EQ(count("this copy is for Sample Buyer"), std::count(text.begin(), text.end(), '\f'));
}

struct Line {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // mm
};

// The single straight strokes of a page, as poppler draws them: in points, since no path of a page
// set by cairo has a transform.
std::vector<Line> lines_on(const fs::path& pdf, int page) {
  const fs::path svg = pdf.string() + ".svg";
  int code = -1;
  output_of(fmt::format("pdftocairo -svg -f {0} -l {0} {1} {2}", page, pdf.string(), svg.string()),
            code);
  std::ifstream in(svg);
  const std::string text(std::istreambuf_iterator<char>(in), {});
  fs::remove(svg);
  std::vector<Line> lines;
  const std::regex line(R"re(d="M ([-\d.]+) ([-\d.]+) L ([-\d.]+) ([-\d.]+) ?")re");
  for (std::sregex_iterator m(text.begin(), text.end(), line), end; m != end; ++m) {
    const auto mm = [&](std::size_t i) { return std::stod((*m)[i].str()) * 25.4 / 72; };
    lines.push_back({mm(1), mm(2), mm(3), mm(4)});
  }
  return lines;
}

// The ruler on a page of templates, measured in the file's own vectors: a line 4 in long, and a
// mark on it 100 mm from its left end.
TEST(Editions, TheCheckRulerIsTrue) {
  Published p{test::made(test::starter("step-stool").content)};
  p.plan = plan_of(p.snapshot, {.seconds = 1});
  for (const Paper paper : {Paper::letter, Paper::a4}) {
    const auto pdf = to_pdf(templates_book_of(data_of(p.snapshot, p.plan), {.paper = paper}));
    ASSERT_TRUE(pdf);
    const fs::path path =
        fs::temp_directory_path() / ("kw-templates-" + std::to_string(getpid()) + ".pdf");
    std::ofstream(path, std::ios::binary) << *pdf;
    const auto lines = lines_on(path, 2);  // page 1 is the map of the first template
    fs::remove(path);
    const auto base = std::find_if(lines.begin(), lines.end(), [](const Line& l) {
      return std::abs(l.y1 - l.y0) < 0.01 && std::abs(std::abs(l.x1 - l.x0) - 101.6) < 0.1;
    });
    ASSERT_NE(base, lines.end());
    const double hundred = std::min(base->x0, base->x1) + 100;
    EXPECT_TRUE(std::any_of(lines.begin(), lines.end(), [&](const Line& l) {
      return std::abs(l.x0 - hundred) < 0.1 && std::abs(l.x1 - l.x0) < 0.01 &&
             std::min(std::abs(l.y0 - base->y0), std::abs(l.y1 - base->y0)) < 0.1;
    }));
  }
}

struct Curve {
  std::vector<Vec2> points = {};  // mm: starts, controls and ends of cubic curves in turn
};

// The stroked curves of a page.
std::vector<Curve> curves_on(const fs::path& pdf, int page) {
  const fs::path svg = pdf.string() + ".svg";
  int code = -1;
  output_of(fmt::format("pdftocairo -svg -f {0} -l {0} {1} {2}", page, pdf.string(), svg.string()),
            code);
  std::ifstream in(svg);
  std::vector<Curve> curves;
  for (std::string line; std::getline(in, line);) {
    const std::size_t at = line.find(" d=\"M ");
    if (at == std::string::npos || line.find("fill:none") == std::string::npos ||
        line.find(" C ") == std::string::npos)
      continue;
    const std::string path = line.substr(at + 4, line.find('"', at + 4) - at - 4);
    Curve curve;
    std::istringstream words(path);
    std::vector<double> numbers;
    for (std::string word; words >> word;) {
      if (std::isalpha(static_cast<unsigned char>(word[0])) == 0)
        numbers.push_back(std::stod(word) * 25.4 / 72);
    }
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2)
      curve.points.push_back({numbers[i], numbers[i + 1]});
    curves.push_back(std::move(curve));
  }
  fs::remove(svg);
  return curves;
}

// How far a page's curve strays from an arc, mm, ends and everything between.
double strays(const Curve& curve, const Arc& arc, Vec2 shift) {
  const auto& p = curve.points;
  if (p.size() != 1 + 3 * beziers_of(arc).size()) return 1e300;
  const Vec2 centre = arc.centre + shift;
  const auto at = [&](double angle) {
    return centre + Vec2{std::cos(angle), std::sin(angle)} * arc.radius;
  };
  double worst =
      std::max(norm(p.front() - at(arc.from)), norm(p.back() - at(arc.from + arc.sweep)));
  for (std::size_t i = 0; i + 3 < p.size(); i += 3) {
    for (double t = 0; t <= 1; t += 0.125) {
      const double u = 1 - t;
      const Vec2 q = p[i] * (u * u * u) + p[i + 1] * (3 * u * u * t) + p[i + 2] * (3 * u * t * t) +
                     p[i + 3] * (t * t * t);
      worst = std::max(worst, std::abs(norm(q - centre) - arc.radius));
    }
  }
  return worst;
}

bool has_line(const std::vector<Line>& lines, Vec2 a, Vec2 b, double within) {
  return std::any_of(lines.begin(), lines.end(), [&](const Line& l) {
    const Vec2 p = {l.x0, l.y0}, q = {l.x1, l.y1};
    return (norm(p - a) < within && norm(q - b) < within) ||
           (norm(p - b) < within && norm(q - a) < within);
  });
}

// Every straight line and every arc of every page of templates, measured in the file's own vectors,
// stands where the part has it, to 0.1 mm; and the arcs have the radii of the wood's own cylinders.
TEST(Editions, TemplatesAreTrueToATenthOfAMillimetre) {
  int lines_held = 0, arcs_held = 0, radii_held = 0;
  double worst = 0;
  for (const auto& [name, paper] :
       {std::pair{"step-stool", Paper::letter}, std::pair{"garden-bench", Paper::a4}}) {
    Published p{test::made(test::starter(name).content)};
    p.plan = plan_of(p.snapshot, {.seconds = 0.2});
    const kw::Book book = templates_book_of(data_of(p.snapshot, p.plan), {.paper = paper});
    const fs::path path =
        fs::temp_directory_path() / ("kw-true-" + std::to_string(getpid()) + ".pdf");
    std::ofstream(path, std::ios::binary) << *to_pdf(book);
    int page = 0;
    for (const Block& block : book.blocks) {
      const Sheet* sheet = std::get_if<Sheet>(&block);
      if (sheet == nullptr) continue;
      ++page;
      if (!sheet->is_full_size) continue;
      const Vec2 shift = {15 + (text_area(paper).x - sheet->width) / 2, 15};
      const bool has_map =
          std::any_of(sheet->labels.begin(), sheet->labels.end(), [](const Label& label) {
            return label.text.find("map of its pages") != std::string::npos;
          });
      const auto lines = lines_on(path, page);
      const auto curves = curves_on(path, page);
      for (const Stroke& s : sheet->strokes) {
        if (s.points.size() != 2 || s.is_closed) continue;
        EXPECT_TRUE(has_line(lines, s.points[0] + shift, s.points[1] + shift, 0.1))
            << sheet->name << ": " << s.points[0].x << ", " << s.points[0].y;
        ++lines_held;
      }
      for (const Arc& arc : sheet->arcs) {
        double best = 1e300;
        for (const Curve& curve : curves) best = std::min(best, strays(curve, arc, shift));
        EXPECT_LT(best, 0.1) << sheet->name << ": arc of radius " << arc.radius;
        worst = std::max(worst, best);
        ++arcs_held;
        if (has_map) continue;  // whose arcs are small
        ++radii_held;
        EXPECT_TRUE(
            std::any_of(p.snapshot.bodies.begin(), p.snapshot.bodies.end(), [&](const Body& body) {
              const auto& all = body.shape->cylinders;
              return std::any_of(all.begin(), all.end(), [&](const Cylinder& c) {
                return std::abs(c.radius - arc.radius) < 1e-9;
              });
            }));
      }
    }
    fs::remove(path);
  }
  EXPECT_GT(lines_held, 500);
  EXPECT_GT(arcs_held, 50);
  EXPECT_GT(radii_held, 30);
  RecordProperty("worst_arc_mm", fmt::format("{:.4f}", worst));
}

TEST(Editions, GiveMillimetresBesideInches) {
  const Published p = trestle();
  const std::string listing = to_plain(listing_of(data_of(p.snapshot, p.plan), {.with_mm = true}));
  EXPECT_NE(listing.find("41 3/16\" (1046 mm)"), std::string::npos) << listing;  // 41.1875 * 25.4
}

TEST(Editions, MarkupIsEscaped) {
  const kw::Book book{.blocks = {Heading{"A < B & C", 0}, Paragraph{"x|y *z*"},
                                 Table{.heads = {"a|b"}, .rows = {{"<i>"}}}}};
  EXPECT_EQ(to_html(book),
            "<h1 id=\"h0\">A &lt; B &amp; C</h1>\n<p>x|y *z*</p>\n"
            "<div class=\"table\" tabindex=\"0\"><table>\n<thead><tr><th>a|b</th></tr>\n</thead>\n"
            "<tbody>\n<tr><td>&lt;i&gt;</td></tr>\n</tbody></table></div>\n");
  EXPECT_EQ(to_markdown(book),
            "# A \\< B & C\n\nx\\|y \\*z\\*\n\n| a\\|b |\n| --- |\n| \\<i\\> |\n\n");
}

// A title that would end the script it stands in, or the head.
TEST(Editions, AWebPageStaysWholeWithAnyTitle) {
  std::string text = test::starter("trestle").content;
  const std::size_t at = text.find("piece");
  text.replace(at, text.find('\n', at) - at, "piece = \"</script><b>\"");
  Published p{test::made(text)};
  p.plan = plan_of(p.snapshot, {.seconds = 1});
  const PlanData data = data_of(p.snapshot, p.plan);
  const std::string page = web_edition(data, {}, scene_json(data, {}));
  EXPECT_EQ(page.find("</script>"), page.rfind("</script>"));
  EXPECT_EQ(page.find("<b>"), std::string::npos);
}

// A title stands in an attribute too, which a quotation mark would end.
TEST(Editions, AWebPageQuotesItsTitle) {
  std::string text = test::starter("trestle").content;
  const std::size_t at = text.find("piece");
  text.replace(at, text.find('\n', at) - at, R"(piece = "A \"low\" trestle")");
  Published p{test::made(text)};
  p.plan = plan_of(p.snapshot, {.seconds = 1});
  const PlanData data = data_of(p.snapshot, p.plan);
  const std::string page = web_edition(data, {}, scene_json(data, {}));
  EXPECT_NE(page.find("aria-label=\"A &quot;low&quot; trestle. "), std::string::npos);
}

}  // namespace
}  // namespace kw
