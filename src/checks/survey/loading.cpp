// Loads of the file laid on the frame, alone and together.
#include "survey/loading.h"

#include <algorithm>
#include <cmath>

#include "survey/load_size.h"

namespace kw::surveying {
namespace {

// Soil at rest presses on a wall with half of its weight (1 - sin 30 degrees, Jaky; from memory).
constexpr double at_rest = 0.5;

// One load by itself, without the piece's weight.
struct Part {
  std::string name = {};
  FrameLoads loads = {};
  bool is_people = false;
};

void add_scaled(const FrameLoads& from, double factor, FrameLoads& into) {
  for (const NodeLoad& load : from.nodes)
    into.nodes.push_back({load.node, load.force * factor, load.moment * factor});
  if (into.even.size() < from.even.size()) into.even.resize(from.even.size());
  for (std::size_t m = 0; m < from.even.size(); ++m) into.even[m] += from.even[m] * factor;
}

class Loader {
 public:
  Loader(Scene& scene, const Bearing& bearing) : scene_(scene), bearing_(bearing) {}

  std::vector<LoadCase> cases() {
    for (const ResolvedLoad& load : scene_.piece.loads) add(load);
    LoadCase always{"what it always bears", {}, Duration::permanent, false, false};
    if (stay_.empty()) always.name = "its own weight";
    for (const Part& part : stay_) add_scaled(part.loads, 1, always.loads);
    if (has_even_) always.duration = Duration::ten_years;
    cases_.push_back(std::move(always));
    for (const Part& part : passing_) with({{&part, 1}}, Duration::ten_years);
    for (const Part& snow : snow_) {
      with({{&snow, 1}}, Duration::two_months);
      for (const Part& part : passing_)
        if (part.is_people) with({{&part, 0.75}, {&snow, 0.75}}, Duration::two_months);
    }
    for (const Part& wind : wind_) add_wind_cases(wind);
    return std::move(cases_);
  }

 private:
  struct Share {
    const Part* part = nullptr;
    double factor = 1;
  };

  void with(const std::vector<Share>& shares, Duration duration, double own = 1) {
    LoadCase one{{}, {}, duration, false, true};
    if (own == 1)
      one.loads = cases_.front().loads;
    else
      one.loads.own = own;
    for (const Share& share : shares) {
      add_scaled(share.part->loads, share.factor, one.loads);
      one.name += one.name.empty() ? share.part->name : " with " + share.part->name;
      one.is_people |= share.part->is_people;
    }
    if (shares.front().factor != 1) one.name += fmt::format(" at {:.2f}", shares.front().factor);
    if (own != 1) one.name += fmt::format(" and {:.1f} of its own weight", own);
    cases_.push_back(std::move(one));
  }

  void add_wind_cases(const Part& wind) {
    with({{&wind, 1}}, Duration::ten_minutes);
    with({{&wind, 1}}, Duration::ten_minutes, 0.6);
    for (const Part& snow : snow_) with({{&wind, 0.75}, {&snow, 0.75}}, Duration::ten_minutes);
  }

  void add(const ResolvedLoad& load) {
    const auto given = size_of(load);
    if (!given && load.kind != "soil") return tell_no_size(load);
    const LoadSize amount = given.value_or(LoadSize{});
    if (load.kind == "people" || load.kind == "point" || load.kind == "pull") {
      if (amount.per_length == 0) return add_points(load, amount.newton);
      if (load.kind == "pull") return tell_no_size(load);
    }
    if (load.kind == "wind") return add_wind(load, amount);
    if (load.kind == "soil" && add_soil(load)) return;
    if (!given) return tell_no_size(load);
    add_even(load, amount);
  }

  void tell_no_size(const ResolvedLoad& load) {
    scene_.add(
        {.area = CheckArea::frame,
         .verdict = Verdict::not_computed,
         .check = "load-without-size",
         .message = fmt::format("load `{}` does not say how much it is, or not in a way that "
                                "its kind, {}, is counted by",
                                load.name, load.kind),
         .source = "docs/piece-file.md, Loads",
         .assumption = "none",
         .change = "say `each`, as \"60 lb\", \"40 lbf / (1 ft * 1 ft)\" or, of soil over "
                   "boards that hold none, its whole mass"});
  }

  [[nodiscard]] const Wood& wood(int body) const { return scene_.woods[at(body)]; }

  // Where people sit on a board: its middle, and near its ends when it is long.
  [[nodiscard]] std::vector<Vec3> places_on(int body, bool is_person) const {
    constexpr double long_board = 900, in_from_end = 225;  // mm, half a person's room
    const double from = wood(body).shape->low.x, to = wood(body).shape->high.x;
    std::vector<double> along = {(from + to) / 2};
    if (is_person && to - from > long_board) {
      along.push_back(from + in_from_end);
      along.push_back(to - in_from_end);
    }
    std::vector<Vec3> places;
    for (const double x : along) places.push_back(wood(body).frame.to_world(Vec3{x, 0, 0}));
    return places;
  }

  void add_points(const ResolvedLoad& load, double newton) {
    const std::size_t most_boards = load.kind == "pull" ? 4 : 12;
    const std::size_t step = load.on.size() / (most_boards + 1) + 1;
    for (std::size_t i = 0; i < load.on.size(); i += step) {
      const int body = scene_.body_of[at(load.on[i])];
      if (body < 0) continue;
      const std::string name = fmt::format("load `{}` on `{}`", load.name, scene_.id(load.on[i]));
      if (load.kind == "pull")
        add_pulls(body, newton, name);
      else
        for (const Vec3 place : places_on(body, load.kind == "people"))
          add_weight(load, body, place, newton, name);
    }
  }

  // A weight at a place; a person's is shared by the named boards within reach of it.
  void add_weight(const ResolvedLoad& load, int body, Vec3 place, double newton,
                  const std::string& name) {
    constexpr double reach = 200;
    std::vector<int> nodes;
    for (const int other : load.on) {
      const int b = scene_.body_of[at(other)];
      if (b < 0) continue;
      const double along = along_near(b, place);
      const Vec3 nearest = wood(b).frame.to_world(Vec3{along, 0, 0});
      const bool shares = load.kind == "people" &&
                          std::hypot(nearest.x - place.x, nearest.y - place.y) <= reach &&
                          std::abs(nearest.z - place.z) < 100;
      if (b == body || shares) nodes.push_back(node_at(bearing_, b, along));
    }
    Part part{name, {}, load.kind == "people"};
    for (const int node : nodes)
      part.loads.nodes.push_back({node, Vec3{0, 0, -newton / static_cast<double>(nodes.size())}});
    passing_.push_back(std::move(part));
  }

  // Level: four ways at the highest end of a board that stands; to and fro, square to its broad
  // face, in the middle of one that lies; four ways there when it lies flat.
  void add_pulls(int body, double newton, const std::string& name) {
    const Wood& w = wood(body);
    const bool stands = std::abs(w.frame.x.z) > 0.7;
    double along = (w.shape->low.x + w.shape->high.x) / 2;
    if (stands) along = w.frame.x.z > 0 ? w.shape->high.x : w.shape->low.x;
    std::vector<Vec3> ways = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}};
    const Vec3 level{w.frame.z.x, w.frame.z.y, 0};
    if (!stands && norm(level) > 0.5) ways = {unit(level), -unit(level)};
    for (const Vec3 way : ways) {
      Part part{name, {}, true};
      part.loads.nodes.push_back({node_at(bearing_, body, along), way * newton});
      passing_.push_back(std::move(part));
    }
  }

  [[nodiscard]] double along_near(int body, Vec3 p) const {
    return std::clamp(wood(body).frame.to_local(p).x, wood(body).shape->low.x,
                      wood(body).shape->high.x);
  }

  // The width (mm) that a board shows to a direction.
  [[nodiscard]] double shown(int board, Vec3 way) const {
    const ResolvedBoard& b = scene_.board(board);
    const Frame& frame = wood(scene_.body_of[at(board)]).frame;
    return b.section.width.in_mm() * std::abs(dot(frame.z, way)) +
           b.section.thickness.in_mm() * std::abs(dot(frame.y, way));
  }

  void lay(int body, Vec3 per_mm, FrameLoads& into) const {
    into.even.resize(bearing_.model.members.size());
    for (const int member : bearing_.beams[at(body)].members) into.even[at(member)] += per_mm;
  }

  void spread(const ResolvedLoad& load, const LoadSize& amount, Vec3 way, FrameLoads& into) const {
    double whole = 0;
    for (const int board : load.on) whole += length_of(board);
    for (const int board : load.on) {
      const int body = scene_.body_of[at(board)];
      if (body < 0) continue;
      double per_mm = amount.newton;
      if (amount.per_length == 0) per_mm = whole > 0 ? amount.newton / whole : 0;
      if (amount.per_length == 2) per_mm = amount.newton * shown(board, way);
      lay(body, way * per_mm, into);
    }
  }
  [[nodiscard]] double length_of(int board) const {
    const int body = scene_.body_of[at(board)];
    return body < 0 ? 0 : wood(body).shape->high.x - wood(body).shape->low.x;
  }

  void add_even(const ResolvedLoad& load, const LoadSize& amount) {
    if (amount.per_length > 2 || amount.newton <= 0) return tell_no_size(load);
    Part part{fmt::format("load `{}`", load.name)};
    spread(load, amount, {0, 0, -1}, part.loads);
    if (load.kind == "snow") {
      snow_.push_back(std::move(part));
      return;
    }
    has_even_ |= load.kind != "soil";
    stay_.push_back(std::move(part));
  }

  void add_wind(const ResolvedLoad& load, const LoadSize& amount) {
    if (amount.per_length > 2) return tell_no_size(load);
    for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0}}) {
      Part part{fmt::format("load `{}`", load.name)};
      spread(load, amount, way, part.loads);
      wind_.push_back(std::move(part));
    }
  }

  // Soil in the hollows over its boards: its weight on what lies under it, by the width shown, and
  // half of it against the walls. False when there is no such hollow, or the load says its mass.
  bool add_soil(const ResolvedLoad& load) {
    Part part{fmt::format("load `{}`", load.name)};
    const auto filled = filled_by(scene_, load);
    for (const Pool* pool : filled) fill(*pool, soil_weight(load), part.loads);
    if (!filled.empty()) stay_.push_back(std::move(part));
    return !filled.empty();
  }

  void fill(const Pool& pool, double weight, FrameLoads& into) const {
    const Vec3 middle = (pool.low + pool.high) * 0.5;
    double under = 0;
    for (const int body : pool.bodies) under += is_under(body, pool) ? area_shown(body, pool) : 0;
    for (const int body : pool.bodies) {
      const double length = std::max(1.0, length_of(wood(body).board));
      if (is_under(body, pool)) {
        const double share = under > 0 ? area_shown(body, pool) / under : 0;
        lay(body, Vec3{0, 0, -weight * pool.volume * share / length}, into);
        continue;
      }
      Vec3 way = wood(body).frame.z;
      if (dot(way, (wood(body).low + wood(body).high) * 0.5 - middle) < 0) way = -way;
      const double low = std::max(pool.floor, wood(body).low.z),
                   high = std::min(pool.rim, wood(body).high.z);
      if (high <= low || std::abs(way.z) > 0.9) continue;
      const double depth = pool.rim - (low + high) / 2;
      const bool stands = std::abs(wood(body).frame.x.z) > 0.7;
      const double wide =
          stands ? scene_.board(wood(body).board).section.width.in_mm() * (high - low) / length
                 : high - low;
      lay(body, way * (at_rest * weight * depth * wide), into);
    }
  }
  [[nodiscard]] bool is_under(int body, const Pool& pool) const {
    return (wood(body).low.z + wood(body).high.z) / 2 < pool.floor + 1;
  }
  [[nodiscard]] double area_shown(int body, const Pool& pool) const {
    const double x =
        std::min(wood(body).high.x, pool.high.x) - std::max(wood(body).low.x, pool.low.x);
    const double y =
        std::min(wood(body).high.y, pool.high.y) - std::max(wood(body).low.y, pool.low.y);
    return std::max(0.0, x) * std::max(0.0, y);
  }

  Scene& scene_;
  const Bearing& bearing_;
  std::vector<Part> stay_ = {}, passing_ = {}, snow_ = {}, wind_ = {};
  std::vector<LoadCase> cases_ = {};
  bool has_even_ = false;
};

}  // namespace

std::vector<LoadCase> load_cases(Scene& scene, const Bearing& bearing) {
  return Loader(scene, bearing).cases();
}

}  // namespace kw::surveying
