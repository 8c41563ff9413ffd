// Beams and frames with closed forms (Roark's Formulas for Stress and Strain; Wood Handbook Table
// 9-1), to a millionth.
#include "kerfwright/checks/frame.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "kerfwright/checks/timber.h"

#include "reference_table.h"

namespace kw {
namespace {

constexpr double e = 11'000, g = 690;
constexpr std::array<bool, 6> clamped = {true, true, true, true, true, true};
constexpr std::array<bool, 6> pinned = {true, true, true, true, false, false};

// A beam along x from 0 to `length` in `parts`, its z up.
FrameModel beam(double length, int parts, bool shears = true) {
  FrameModel model;
  Profile profile = rectangle(38, 89);
  if (!shears) profile.shear_y = profile.shear_z = 0;
  for (int i = 0; i <= parts; ++i) model.nodes.push_back({{length * i / parts, 0, 0}});
  for (int i = 0; i < parts; ++i) model.members.push_back({i, i + 1, {0, 0, 1}, profile, e, g});
  return model;
}

FrameAnswer solved(const FrameModel& model, const FrameLoads& loads) {
  return solve(model, {loads}).front();
}

FrameLoads even(const FrameModel& model, Vec3 load) {
  return {.even = std::vector<Vec3>(model.members.size(), load)};
}

void expect_near(double got, double wanted) {
  EXPECT_NEAR(got, wanted, std::abs(wanted) * 1e-6);
}

double deflection(double load, double span, double k_b, double k_s) {
  const Profile p = rectangle(38, 89);
  return beam_deflection({load, span, e, p.inertia_y, g, p.shear_z}, k_b, k_s);
}

TEST(FrameBeam, HasTheHandbooksDeflections) {
  const double span = 1800, load = 900;
  for (const int parts : {2, 4, 10}) {  // the mesh changes nothing
    FrameModel model = beam(span, parts);
    const auto middle = static_cast<std::size_t>(parts / 2);
    const FrameLoads spread = even(model, {0, 0, -load / span});
    const FrameLoads point{.nodes = {{parts / 2, {0, 0, -load}}}};
    model.nodes.front().held = model.nodes.back().held = pinned;
    expect_near(-solved(model, spread).moved[middle].z, deflection(load, span, 5.0 / 384, 1.0 / 8));
    expect_near(-solved(model, point).moved[middle].z, deflection(load, span, 1.0 / 48, 1.0 / 4));
    model.nodes.front().held = model.nodes.back().held = clamped;
    expect_near(-solved(model, spread).moved[middle].z, deflection(load, span, 1.0 / 384, 1.0 / 8));
    expect_near(-solved(model, point).moved[middle].z, deflection(load, span, 1.0 / 192, 1.0 / 4));
    model.nodes.back().held = {};
    const FrameLoads tip{.nodes = {{parts, {0, 0, -load}}}};
    expect_near(-solved(model, spread).moved.back().z, deflection(load, span, 1.0 / 8, 1.0 / 2));
    expect_near(-solved(model, tip).moved.back().z, deflection(load, span, 1.0 / 3, 1));
  }
}

TEST(FrameBeam, HasTheDeflectionsOfQuarterPointLoads) {
  FrameModel model = beam(1800, 4);
  model.nodes.front().held = model.nodes.back().held = pinned;
  const FrameAnswer answer = solved(model, {.nodes = {{1, {0, 0, -450}}, {3, {0, 0, -450}}}});
  expect_near(-answer.moved[2].z, deflection(900, 1800, 11.0 / 768, 1.0 / 8));
  expect_near(-answer.moved[1].z, deflection(900, 1800, 1.0 / 96, 1.0 / 8));
}

double fraction(const std::string& text) {
  const auto line = text.find('/');
  return line == std::string::npos
             ? std::stod(text)
             : std::stod(text.substr(0, line)) / std::stod(text.substr(line + 1));
}

// Every row of Table 9-1 by the solver: its own loads and ends on a beam of four members.
TEST(FrameBeam, HasTheDeflectionOfEveryRow) {
  const double span = 1800, load = 900;
  for (const test::Record& row : test::records_in("beam-coefficients.tsv")) {
    FrameModel model = beam(span, 4);
    const std::string &loading = row.at("loading"), &ends = row.at("ends");
    model.nodes.front().held = ends == "simply supported" ? pinned : clamped;
    if (ends != "cantilever") model.nodes.back().held = model.nodes.front().held;
    FrameLoads loads;
    if (loading == "uniform") loads = even(model, {0, 0, -load / span});
    if (loading == "point at midspan") loads.nodes = {{2, {0, 0, -load}}};
    if (loading == "point at free end") loads.nodes = {{4, {0, 0, -load}}};
    if (loading == "points at outer quarter points")
      loads.nodes = {{1, {0, 0, -load / 2}}, {3, {0, 0, -load / 2}}};
    const std::string& place = row.at("deflection_at");
    const std::size_t node = place == "midspan" ? 2 : place == "free end" ? 4 : 1;
    SCOPED_TRACE(loading + ", " + ends + ", " + place);
    expect_near(-solved(model, loads).moved[node].z,
                deflection(load, span, fraction(row.at("k_b")), fraction(row.at("k_s"))));
  }
}

TEST(FrameBeam, TellsItsForces) {
  FrameModel model = beam(2000, 1);
  model.nodes.front().held = model.nodes.back().held = pinned;
  const FrameAnswer spread = solved(model, even(model, {0, 0, -0.5}));
  expect_near(spread.members[0].most_bending_y, 0.5 * 2000 * 2000 / 8);
  expect_near(spread.reactions[0].z, 500);
  expect_near(spread.reactions[1].z, 500);
  model.nodes.front().held = clamped;
  model.nodes.back().held = {};
  const FrameAnswer tip = solved(model, {.nodes = {{1, {0, 0, -100}}}});
  expect_near(tip.members[0].most_bending_y, 200'000);
  expect_near(tip.reactions[0].z, 100);
  expect_near(std::abs(tip.reaction_moments[0].y), 200'000);
}

// Two equal spans, no shear bending: 1.25 w L on the middle support, w L^2 / 8 over it.
TEST(FrameBeam, RunsOnOverASupport) {
  FrameModel model = beam(3000, 2, false);
  model.nodes[0].held = model.nodes[2].held = pinned;
  model.nodes[1].held = {false, false, true, false, false, false};
  const FrameAnswer answer = solved(model, even(model, {0, 0, -2}));
  expect_near(answer.reactions[1].z, 1.25 * 2 * 1500);
  expect_near(answer.members[0].most_bending_y, 2.0 * 1500 * 1500 / 8);
}

// Portal with pinned feet and a side load P at the top: each foot P/2 level, P h / L up and down,
// corners bend P h / 2 (members without stretch or shear: made stiff by area).
TEST(FramePortal, SharesASideLoad) {
  FrameModel model;
  Profile profile = rectangle(40, 40);
  profile.area = 1e9;
  profile.shear_y = profile.shear_z = 0;
  model.nodes = {{{0, 0, 0}}, {{0, 0, 1000}}, {{2000, 0, 1000}}, {{2000, 0, 0}}};
  for (int i = 0; i < 3; ++i) model.members.push_back({i, i + 1, {0, 1, 0}, profile, e, g});
  model.nodes[0].held = model.nodes[3].held = {true, true, true, true, false, true};
  const FrameAnswer answer = solved(model, {.nodes = {{1, {300, 0, 0}}, {2, {300, 0, 0}}}});
  expect_near(answer.reactions[0].x, -300);
  expect_near(answer.reactions[0].z, -600.0 * 1000 / 2000);
  const double bending =
      std::max(answer.members[1].most_bending_y, answer.members[1].most_bending_z);
  expect_near(bending, 300'000);
  // Sway: P h^2 (h / 3 + L / 6) / (2 E I) for a load P / 2 at each corner.
  expect_near(answer.moved[1].x,
              600.0 * 1e6 * (1000.0 / 3 + 2000.0 / 6) / (2 * e * profile.inertia_y));
}

// Two beams crossing at their middles, all ends pinned: each bears its share by stiffness over span
// cubed.
TEST(FrameGrillage, SharesALoadByStiffness) {
  FrameModel model;
  Profile profile = rectangle(40, 40);
  profile.shear_y = profile.shear_z = 0;
  model.nodes = {{{0, 0, 0}},
                 {{-500, 0, 0}, pinned},
                 {{500, 0, 0}, pinned},
                 {{0, -800, 0}, {true, true, true, false, true, false}},
                 {{0, 800, 0}, {true, true, true, false, true, false}}};
  for (int i = 1; i < 5; ++i) model.members.push_back({0, i, {0, 0, 1}, profile, e, 1e-9});
  const FrameAnswer answer = solved(model, {.nodes = {{0, {0, 0, -1000}}}});
  const double a = 1 / std::pow(1000.0, 3), b = 1 / std::pow(1600.0, 3);
  expect_near(answer.reactions[1].z, 500 * a / (a + b));
  expect_near(answer.reactions[3].z, 500 * b / (a + b));
  expect_near(-answer.moved[0].z, 1000 / (48 * e * profile.inertia_y * (a + b)));
}

// Patch test: nodes of any mesh moved as one stiff body, or stretched evenly, on their border give
// the same movement within and no or an even force.
TEST(FramePatch, MovesAsOneBodyWithoutForces) {
  FrameModel model;
  model.nodes = {
      {{0, 0, 0}, clamped}, {{300, 70, -40}}, {{500, 200, 90}}, {{800, 100, 300}, clamped}};
  for (int i = 0; i < 3; ++i)
    model.members.push_back({i, i + 1, {0, 0, 1}, rectangle(38, 89), e, g});
  model.members.push_back({0, 2, {0, 1, 0}, rectangle(20, 60), e, g});
  const Vec3 turn{0.01, -0.02, 0.015}, shift{3, -2, 1};
  for (const std::size_t n : {0u, 3u}) {
    const Vec3 moved = shift + cross(turn, model.nodes[n].at);
    model.nodes[n].moved = {moved.x, moved.y, moved.z, turn.x, turn.y, turn.z};
  }
  const FrameAnswer answer = solved(model, {});
  for (const std::size_t n : {1u, 2u}) {
    const Vec3 wanted = shift + cross(turn, model.nodes[n].at);
    EXPECT_NEAR(norm(answer.moved[n] - wanted), 0, 1e-9);
    EXPECT_NEAR(norm(answer.turned[n] - turn), 0, 1e-11);
  }
  for (const MemberForces& forces : answer.members)
    for (const double force : forces.at_from) EXPECT_NEAR(force, 0, 1e-4);
}

TEST(FramePatch, StretchesEvenly) {
  FrameModel model = beam(1000, 7);
  model.nodes.front().held = model.nodes.back().held = clamped;
  model.nodes.back().moved[0] = 0.5;
  const FrameAnswer answer = solved(model, {});
  for (const MemberForces& forces : answer.members)
    expect_near(forces.at_to[0], e * 38 * 89 * 0.5 / 1000);
}

TEST(FrameLink, IsASpringWithStiffArms) {
  // A tip load on a clamped stub through a link 100 mm beside it.
  FrameModel model;
  model.nodes = {{{0, 0, 0}, clamped}, {{0, 100, 0}}};
  model.links.push_back({0, 1, {.origin = {0, 60, 0}}, {1e3, 2e3, 4e3}, {1e6, 1e6, 1e6}});
  const FrameAnswer answer = solved(model, {.nodes = {{1, {0, 0, -80}}}});
  // Down by P / k and by turning: P r / k_turn x r, r = 40 mm.
  expect_near(answer.moved[1].z, -80 / 4e3 - 80.0 * 40 / 1e6 * 40);
  expect_near(answer.link_forces[0].z, 80);
}

// A beam laid on three props, loaded on one half: the far end lifts, and the beam stands on two.
TEST(FrameLink, PressesAndDoesNotPull) {
  FrameModel model = beam(3000, 6);
  for (FrameMember& member : model.members) member.profile.shear_y = member.profile.shear_z = 0;
  const auto ground = static_cast<int>(model.nodes.size());
  for (const int node : {0, 2, 6}) {
    const auto on = static_cast<int>(model.nodes.size());
    model.nodes.push_back({model.nodes[static_cast<std::size_t>(node)].at, clamped});
    const Vec3 at = model.nodes.back().at;
    model.links.push_back(
        {on, node, {at, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {1e5, 1e5, 1e7}, {1e6, 0, 1e6}, 0});
  }
  ASSERT_EQ(ground, 7);
  const FrameLoads load{.nodes = {{1, {0, 0, -600}}}};
  const FrameAnswer answer = solved(model, load);
  EXPECT_NEAR(answer.link_forces[0].z, 300, 0.01);
  EXPECT_NEAR(answer.link_forces[1].z, 300, 0.01);
  EXPECT_NEAR(answer.link_forces[2].z, 0, 1e-9);
  EXPECT_GT(answer.moved[6].z, 0);
  for (FrameLink& link : model.links) link.parting = -1;  // held down, the far end is pulled
  EXPECT_LT(solved(model, load).link_forces[2].z, -10);
}

// Let go by the small system or never there at all: the same answer.
TEST(FrameLink, ThatPartsIsAsIfItHadTheOtherStiffness) {
  FrameModel model = beam(2000, 4);
  model.nodes[0].held = clamped;
  for (const int node : {2, 3, 4}) {
    const auto on = static_cast<int>(model.nodes.size());
    model.nodes.push_back({model.nodes[static_cast<std::size_t>(node)].at, clamped});
    model.links.push_back({on,
                           node,
                           {model.nodes.back().at, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
                           {10, 10, 5e3},
                           {0, 0, 0},
                           40});
  }
  const FrameLoads up{.nodes = {{3, {0, 0, 250}}}};
  const FrameAnswer answer = solved(model, up);
  for (FrameLink& link : model.links) {
    link.parting = -1;
    link.moving.z = 40;
  }
  const FrameAnswer other = solved(model, up);
  for (std::size_t n = 0; n < model.nodes.size(); ++n)
    EXPECT_NEAR(norm(answer.moved[n] - other.moved[n]), 0, 1e-6 * norm(other.moved[4]));
  for (std::size_t l = 0; l < 3; ++l) expect_near(answer.link_forces[l].z, other.link_forces[l].z);
}

TEST(Frame, SaysWhenSomethingMovesFreely) {
  FrameModel model = beam(1000, 2);
  model.nodes[0].held = {true, true, true, false, false, false};
  EXPECT_FALSE(solved(model, {.nodes = {{2, {0, 0, -1}}}}).is_solved);
}

// A tree of members from a held node, with one more that closes a ring, and a load on each.
struct RandomFrame {
  FrameModel model = {};
  FrameLoads one = {}, other = {};
};

Vec3 random_vector(int most) {
  return {double(*rc::gen::inRange(-most, most)), double(*rc::gen::inRange(-most, most)),
          double(*rc::gen::inRange(-most, most))};
}

RandomFrame random_frame() {
  RandomFrame frame;
  const int count = *rc::gen::inRange(3, 9);
  for (int i = 0; i < count; ++i)
    frame.model.nodes.push_back({random_vector(900) + Vec3{i * 2000.0, 0, 0}});
  frame.model.nodes[0].held = clamped;
  for (int i = 1; i < count; ++i)
    frame.model.members.push_back({i - 1, i, {0, 0, 1}, rectangle(40, 70), e, g});
  frame.model.members.push_back({0, count - 1, {0, 0, 1}, rectangle(40, 70), e, g});
  for (int i = 1; i < count; ++i) {
    frame.one.nodes.push_back({i, random_vector(100), random_vector(10'000)});
    frame.other.nodes.push_back({i, random_vector(100), random_vector(10'000)});
  }
  for (std::size_t m = 0; m < frame.model.members.size(); ++m) {
    frame.one.even.push_back(random_vector(10) * 0.01);
    frame.other.even.push_back(random_vector(10) * 0.01);
  }
  return frame;
}

double largest(const FrameAnswer& answer) {
  double most = 1e-6;
  for (const Vec3& moved : answer.moved) most = std::max(most, norm(moved));
  return most;
}

RC_GTEST_PROP(Frame, AddsUpItsLoads, ()) {
  const RandomFrame frame = random_frame();
  FrameLoads both = frame.one;
  for (const NodeLoad& load : frame.other.nodes)
    both.nodes.push_back({load.node, load.force * 3, load.moment * 3});
  for (std::size_t m = 0; m < both.even.size(); ++m) both.even[m] += frame.other.even[m] * 3;
  const auto answers = solve(frame.model, {frame.one, frame.other, both});
  RC_ASSERT(answers[2].is_solved);
  const double slack = 1e-7 * (largest(answers[0]) + 3 * largest(answers[1]));
  for (std::size_t n = 0; n < frame.model.nodes.size(); ++n)
    RC_ASSERT(norm(answers[2].moved[n] - answers[0].moved[n] - answers[1].moved[n] * 3) <= slack);
}

Vec3 turned(const Frame& by, Vec3 v) {
  return by.x * v.x + by.y * v.y + by.z * v.z;
}

// Turned as a whole, with its loads, it moves as before in its own axes.
RC_GTEST_PROP(Frame, KnowsNoDirection, ()) {
  const RandomFrame frame = random_frame();
  const Vec3 x = unit(random_vector(100) + Vec3{0.37, 0.11, 0.05});
  const Vec3 y = unit(cross(std::abs(x.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{0, 1, 0}, x));
  const Frame by{{0, 0, 0}, x, y, cross(x, y)};
  RandomFrame other = frame;
  for (FrameNode& node : other.model.nodes) node.at = turned(by, node.at);
  for (FrameMember& member : other.model.members) member.z = turned(by, member.z);
  for (NodeLoad& load : other.one.nodes) {
    load.force = turned(by, load.force);
    load.moment = turned(by, load.moment);
  }
  for (Vec3& load : other.one.even) load = turned(by, load);
  const FrameAnswer before = solved(frame.model, frame.one), after = solved(other.model, other.one);
  for (std::size_t n = 0; n < frame.model.nodes.size(); ++n)
    RC_ASSERT(norm(after.moved[n] - turned(by, before.moved[n])) <= 1e-6 * largest(before));
}

// Maxwell and Betti: the work of one load on what the other moves is the same both ways.
RC_GTEST_PROP(Frame, GivesAsItTakes, ()) {
  RandomFrame frame = random_frame();
  frame.one.even.clear();
  frame.other.even.clear();
  const FrameAnswer one = solved(frame.model, frame.one), other = solved(frame.model, frame.other);
  const auto work = [](const FrameLoads& loads, const FrameAnswer& moved) {
    double sum = 0;
    for (const NodeLoad& load : loads.nodes)
      sum += dot(load.force, moved.moved[static_cast<std::size_t>(load.node)]) +
             dot(load.moment, moved.turned[static_cast<std::size_t>(load.node)]);
    return sum;
  };
  const double a = work(frame.one, other), b = work(frame.other, one);
  const double size = std::abs(work(frame.one, one)) + std::abs(work(frame.other, other));
  RC_ASSERT(std::abs(a - b) <= 1e-7 * std::max(1e-3, size));
}

RC_GTEST_PROP(Frame, IsInBalance, ()) {
  FrameModel model;
  const int count = *rc::gen::inRange(3, 9);
  for (int i = 0; i < count; ++i)
    model.nodes.push_back(
        {{double(*rc::gen::inRange(-900, 900)) + i * 2000, double(*rc::gen::inRange(-900, 900)),
          double(*rc::gen::inRange(-900, 900))}});
  model.nodes[0].held = clamped;
  for (int i = 1; i < count; ++i)
    model.members.push_back({i - 1, i, {0, 0, 1}, rectangle(40, 70), e, g, {0, 0, -0.02}});
  model.members.push_back({0, count - 1, {0, 0, 1}, rectangle(40, 70), e, g});
  const Vec3 pull{10, -20, 30};
  const FrameAnswer answer = solved(model, {.nodes = {{count - 1, pull}}});
  RC_ASSERT(answer.is_solved);
  Vec3 sum = pull;
  for (const Vec3& reaction : answer.reactions) sum += reaction;
  for (std::size_t m = 0; m + 1 < model.members.size(); ++m)
    sum += Vec3{0, 0, -0.02} * norm(model.nodes[m + 1].at - model.nodes[m].at);
  RC_ASSERT(norm(sum) < 1e-4);
}

}  // namespace
}  // namespace kw
