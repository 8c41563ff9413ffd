// Every length and every angle that stands in a plan book is one that the engine computed: the text
// is read back out of the PDF by poppler, and each figure looked for among those of the cut list,
// the set-ups, the sawing plan and the steps, in both units.
#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <regex>
#include <set>
#include <sstream>
#include <unistd.h>

#include "kerfwright/lumber/sold.h"
#include "kerfwright/measure/text.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/workbench/recompute.h"

#include "edition.h"

namespace kw {
namespace {

namespace fs = std::filesystem;

std::string text_of(const std::string& pdf) {
  const fs::path path =
      fs::temp_directory_path() / ("kw-numbers-" + std::to_string(getpid()) + ".pdf");
  std::ofstream(path, std::ios::binary) << pdf;
  FILE* pipe = popen(("pdftotext " + path.string() + " -").c_str(), "r");
  std::string text;
  std::array<char, 4096> part = {};
  while (pipe != nullptr && std::fgets(part.data(), static_cast<int>(part.size()), pipe) != nullptr)
    text += part.data();
  if (pipe != nullptr) pclose(pipe);
  fs::remove(path);
  return text;
}

// Figures with their units: 29 11/16", 3/4", 12.7 mm, 14.5 deg.
std::set<std::string> figures_in(const std::string& text, LengthUnit unit) {
  const std::regex pattern(unit == LengthUnit::mm ? R"(~?\d+(\.\d+)? mm\b|\d+(\.\d+)?°)"
                                                  : R"re(~?(\d+ )?\d+(/\d+)?"|\d+(\.\d+)?°)re");
  std::set<std::string> found;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    for (std::sregex_iterator m(line.begin(), line.end(), pattern), end; m != end; ++m)
      found.insert(m->str());
  }
  return found;
}

class Computed {
 public:
  Computed(const Snapshot& s, const ShopPlan& plan, LengthUnit unit) : unit_(unit), s_(s) {
    for (const Part& part : s.cut_list.parts) add(part);
    for (const Setup& setup : plan.setups) add(setup);
    add_piece();
    add_steps(plan.assembly);
    for (const StockPlan& one : plan.sawing.plans) add(one);
    for (const SheetStockPlan& one : plan.sawing.sheets) add(one);
  }
  // A figure broken over two lines leaves its end, and a count before a fraction looks like a whole
  // number: the end of a computed figure, or a computed figure at the end, will do.
  [[nodiscard]] bool has(const std::string& figure) const {
    return texts_.count(figure) > 0 ||
           std::any_of(texts_.begin(), texts_.end(), [&](const std::string& text) {
             return text.ends_with(" " + figure) || figure.ends_with(" " + text);
           });
  }
  [[nodiscard]] std::size_t count() const { return texts_.size(); }

 private:
  void add(Length length) {
    texts_.insert(format_length(length, {.unit = unit_}));
    texts_.insert(format_length(round_to(length, s_.cut_list.rule), {.unit = unit_}));
    texts_.insert(
        format_length(round_to(length, s_.cut_list.rule, Rounding::down), {.unit = unit_}));
  }
  void add(Angle angle) {
    texts_.insert(format_angle(Angle::degrees(std::abs(angle.in_degrees()))));
  }
  void add_slope(double slope) { add(Angle::degrees(std::atan(slope) * 180 / M_PI)); }
  void add_words(const std::string& words) {
    for (const std::string& figure : figures_in(words, unit_)) texts_.insert(figure);
  }

  void add(const Part& part) {
    for (const ShopFigure& f : part.figures) {
      add(f.exact);
      texts_.insert(format_length(f.printed, {.unit = unit_}));
    }
    for (const auto* cuts : {&part.ends, &part.cuts}) {
      for (const SawCut& cut : *cuts) {
        add(cut.printed_swing);
        add(cut.printed_tilt);
        add_words(cut.other_way);
      }
    }
    for (const Mark& mark : part.marks) {
      add(mark.printed_swing);
      add(mark.printed_tilt);
    }
    for (const HoleMark& hole : part.holes) {
      add(hole.lean);
      texts_.insert(format_length(bit_for(hole, unit_), {.unit = unit_}));
    }
  }

  void add(const Setup& setup) {
    add(setup.swing);
    add(setup.tilt);
    add(setup.fence);
    for (const SetupCut& cut : setup.cuts) add(cut.stop);
  }

  void add_piece() {
    const Resolved& piece = s_.piece;
    add(piece.rule);
    add_words(piece.note + " " + piece.care);
    for (const NamedValue& size : piece.sizes) {
      add_words(size.note);
      if (size.value.dimension == an_angle) add(Angle::degrees(size.value.amount));
      if (const auto length = to_length(size.value, piece.unit, size.at)) add(*length);
    }
    for (const ResolvedJoint& joint : piece.joints) {
      const Fastener* f = find_fastener(built_in_catalogue(), joint.fastener);
      if (f != nullptr) add_words(hardware_sold(built_in_catalogue(), f->name, unit_));
    }
    for (const ResolvedStock& stock : piece.stocks) add_words(stock.sold_as);
    Vec3 low = {1e300, 1e300, 1e300}, high = low * -1;
    for (std::size_t i = 0; i < s_.bodies.size(); ++i) {
      const auto mesh = mesh_of(*s_.bodies[i].shape);
      for (const auto& triangle : mesh->triangles) {
        for (const std::uint32_t corner : triangle) {
          const Vec3 w = s_.bodies[i].frame.to_world(mesh->points[corner]);
          low = {std::min(low.x, w.x), std::min(low.y, w.y), std::min(low.z, w.z)};
          high = {std::max(high.x, w.x), std::max(high.y, w.y), std::max(high.z, w.z)};
        }
      }
    }
    for (const double mm : {high.x - low.x, high.y - low.y, high.z - low.z}) add(Length::mm(mm));
  }

  void add_steps(const Assembly& assembly) {
    for (const AssemblyStep& step : assembly.steps) {
      for (const SetOut& m : step.marks) {
        add(m.from.printed);
        add(m.to.printed);
      }
      for (const Diagonals& d : step.checks) {
        add(d.one.printed);
        add(d.other.printed);
      }
    }
  }

  void add(const StockPlan& plan) {
    add(plan.problem.problem.saw.kerf);
    add(plan.problem.strip_width);
    add(plan.problem.stock.stock.used.width);
    for (const Stock& stock : plan.problem.problem.stocks) add(stock.length);
    for (const SawnStick& stick : plan.plan.sticks) add(stick.offcut);
    for (const Demand& d : plan.problem.problem.demands) {
      add_slope(d.left_slope);
      add_slope(d.right_slope);
    }
  }

  void add(const SheetStockPlan& plan) {
    add(plan.problem.kerf);
    for (const Length trim : {plan.problem.trim.left, plan.problem.trim.lower}) add(trim);
    for (const SheetStock& sheet : plan.problem.sheets) {
      add(sheet.length);
      add(sheet.width);
    }
    for (const SawnSheet& sheet : plan.plan.sheets) {
      for (const SheetPiece& piece : sheet.pieces) {
        add(piece.length);
        add(piece.width);
        add(piece.at);
      }
    }
  }

  LengthUnit unit_;
  const Snapshot& s_;
  std::set<std::string> texts_ = {};
};

class Numbers : public testing::TestWithParam<std::tuple<std::string, LengthUnit>> {};

TEST_P(Numbers, OfTheBookAreThoseOfTheEngine) {
  const LengthUnit unit = std::get<1>(GetParam());
  const test::Edition& edition = test::edition_of(GetParam());
  const std::string text = text_of(edition.pdf);
  // What the checks say is looked for in book_test; their sources are figures of others.
  const std::size_t closing = text.rfind("Closing check\n");
  ASSERT_NE(closing, std::string::npos);
  const Computed computed(edition.snapshot, edition.plan, unit);
  const auto printed = figures_in(text.substr(0, closing), unit);
  for (const std::string& figure : printed) EXPECT_TRUE(computed.has(figure)) << figure;
  EXPECT_GE(printed.size(), 15U);
  for (const std::string& figure : printed)
    EXPECT_EQ(figure.find('~'), std::string::npos) << figure << " is not what it says";
}

// The reader above sees a figure that nobody computed.
TEST(NumbersOfABook, AStrangeOneIsSeen) {
  ShapeCache cache;
  Snapshot s = recompute(test::starter("trestle"), built_in_catalogue(), cache);
  const ShopPlan plan = plan_of(s, {.seconds = 0.1});
  const Computed computed(s, plan, LengthUnit::inch);
  EXPECT_FALSE(computed.has("77 7/16\""));
  EXPECT_FALSE(computed.has("61.3°"));
  kw::Book book = book_of(data_of(s, plan), {});
  book.blocks.insert(book.blocks.begin(), Paragraph{"Saw at 77 7/16\" and 61.3°."});
  const auto printed = figures_in(text_of(*to_pdf(book)), LengthUnit::inch);
  EXPECT_EQ(printed.count("77 7/16\""), 1U);
  EXPECT_EQ(printed.count("61.3°"), 1U);
}

INSTANTIATE_TEST_SUITE_P(Editions, Numbers,
                         testing::Combine(testing::ValuesIn(test::starters()),
                                          testing::ValuesIn(test::units())));

}  // namespace
}  // namespace kw
