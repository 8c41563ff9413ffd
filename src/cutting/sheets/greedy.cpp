#include "greedy.h"

#include <algorithm>
#include <array>
#include <optional>

namespace kw::cutting::sheets {
namespace {

struct Way2 {
  Way first = Way::none, second = Way::none;  // none: that cut is not needed
};

struct Place {
  std::size_t sheet = 0, free = 0;
  bool turned = false;
  Way2 ways = {};
  double score = 0;
};

std::int64_t along(Size s, Way way) {
  return way == Way::crosscut ? s.l : s.w;
}

// Which cuts get `part` out of `from`, the first one of `first`; none when they are not allowed.
std::optional<Way2> cuts_for(const Model& model, Size part, const Free& from, Way first) {
  const Way other = first == Way::rip ? Way::crosscut : Way::rip;
  Way2 ways{first, other};
  if (along(part, other) == along(from.size, other)) ways.second = Way::none;
  if (along(part, first) == along(from.size, first)) ways = {ways.second, Way::none};
  Stage stage = from.stage;
  if (ways.second != Way::none) {
    if (!is_allowed(model, stage, ways.first)) return std::nullopt;
    return may_trim(model, stage.after(ways.first), ways.second) ? std::optional(ways)
                                                                 : std::nullopt;
  }
  if (ways.first != Way::none && !may_trim(model, stage, ways.first)) return std::nullopt;
  return ways;
}

double fit_score(Size part, Size from, Rules::Fit fit) {
  const auto dl = static_cast<double>(from.l - part.l), dw = static_cast<double>(from.w - part.w);
  switch (fit) {
    case Rules::Fit::short_side:
      return std::min(dl, dw);
    case Rules::Fit::long_side:
      return std::max(dl, dw);
    case Rules::Fit::area:
      break;
  }
  return static_cast<double>(from.area() - part.area());
}

// Less is better: which way of splitting is preferred at equal fit.
double split_score(Size part, Size from, Way first, Rules::Split split) {
  if (split == Rules::Split::rip) return first == Way::rip ? 0 : 1;
  if (split == Rules::Split::crosscut) return first == Way::crosscut ? 0 : 1;
  const auto dl = static_cast<double>(from.l - part.l), dw = static_cast<double>(from.w - part.w);
  const double right = dl * static_cast<double>(first == Way::crosscut ? from.w : part.w);
  const double above = dw * static_cast<double>(first == Way::rip ? from.l : part.l);
  const double largest = std::max(right, above) / static_cast<double>(from.area());
  return split == Rules::Split::largest ? 1 - largest : largest;
}

class Putting {
 public:
  Putting(const Model& model, const Rules& rules, Layout& layout)
      : model_(model), rules_(rules), layout_(layout) {}

  // The work done.
  std::int64_t put(int kind) {
    const Kind& k = kind_at(kind);
    best_.reset();
    std::int64_t looked = 1;
    for (std::size_t s = 0; s < layout_.sheets.size(); ++s) looked += look(s, k);
    if (!best_ && rules_.may_open && open(k)) looked += look(layout_.sheets.size() - 1, k);
    if (best_) {
      saw(kind);
    } else {
      layout_.missing.push_back(kind);
    }
    return looked;
  }

 private:
  [[nodiscard]] const Kind& kind_at(int kind) const {
    return model_.kinds[static_cast<std::size_t>(kind)];
  }

  std::int64_t look(std::size_t s, const Kind& kind) {
    const OpenSheet& sheet = layout_.sheets[s];
    for (std::size_t f = 0; f < sheet.free.size(); ++f) {
      for (const bool is_turned : {false, true}) {
        if (is_turned && !kind.turns) continue;
        const Size part = is_turned ? turned(kind.size) : kind.size;
        const Free& from = sheet.free[f];
        if (!from.size.holds(part)) continue;
        const double fit = fit_score(part, from.size, rules_.fit);
        if (best_ && fit > best_->score + 1) continue;
        for (const Way first : {Way::rip, Way::crosscut}) {
          const auto ways = cuts_for(model_, part, from, first);
          if (!ways) continue;
          const double score = fit + split_score(part, from.size, first, rules_.split);
          if (!best_ || score < best_->score) best_ = Place{s, f, is_turned, *ways, score};
        }
      }
    }
    return static_cast<std::int64_t>(sheet.free.size());
  }

  // A new sheet on which the part fits: of the preferred board, else of the cheapest for its area.
  bool open(const Kind& kind) {
    int best = -1;
    double best_price = 0;
    for (std::size_t b = 0; b < model_.boards.size(); ++b) {
      const Board& board = model_.boards[b];
      if (layout_.copies[b] == 0 || !fits(kind, board)) continue;
      const double price =
          static_cast<int>(b) == rules_.board
              ? -1
              : static_cast<double>(board.price) / static_cast<double>(board.size.area());
      if (best < 0 || price < best_price) best = static_cast<int>(b), best_price = price;
    }
    if (best < 0) return false;
    --layout_.copies[static_cast<std::size_t>(best)];
    OpenSheet sheet{.pattern = {.board = best, .nodes = {Node{}}}};
    sheet.free.push_back({0, model_.boards[static_cast<std::size_t>(best)].size, {}});
    layout_.sheets.push_back(std::move(sheet));
    return true;
  }

  void saw(int kind) {
    OpenSheet& sheet = layout_.sheets[best_->sheet];
    Free from = sheet.free[best_->free];
    sheet.free.erase(sheet.free.begin() + static_cast<std::ptrdiff_t>(best_->free));
    const Size part = best_->turned ? turned(kind_at(kind).size) : kind_at(kind).size;
    for (const Way way : {best_->ways.first, best_->ways.second}) {
      if (way != Way::none) cut(sheet, from, way, along(part, way));
    }
    Node& leaf = sheet.pattern.nodes[static_cast<std::size_t>(from.node)];
    leaf.kind = kind;
    leaf.turned = best_->turned;
    sheet.made.push_back(kind);
    sheet.used += part.area();
  }

  // `from` becomes what lies below the cut; what lies beyond is free, unless the cut only trims.
  void cut(OpenSheet& sheet, Free& from, Way way, std::int64_t at) {
    auto& nodes = sheet.pattern.nodes;
    const int below = static_cast<int>(nodes.size());
    nodes.resize(nodes.size() + 2);
    Node& node = nodes[static_cast<std::size_t>(from.node)];
    node.way = way;
    node.at = at;
    node.below = below;
    node.beyond = below + 1;
    Free beyond{below + 1, from.size, from.stage.after(way)};
    (way == Way::crosscut ? beyond.size.l : beyond.size.w) -= at;
    if (is_allowed(model_, from.stage, way)) sheet.free.push_back(beyond);
    (way == Way::crosscut ? from.size.l : from.size.w) = at;
    from.stage = beyond.stage;
    from.node = below;
  }

  const Model& model_;
  const Rules& rules_;
  Layout& layout_;
  std::optional<Place> best_ = {};
};

std::int64_t key_of(const Kind& kind, int by) {
  switch (by) {
    case 1:
      return std::max(kind.size.l, kind.size.w);
    case 2:
      return kind.size.l;
    case 3:
      return kind.size.w;
    default:
      return std::min(kind.size.l, kind.size.w);
  }
}

}  // namespace

Layout empty_layout(const Model& model) {
  Layout layout;
  for (const Board& b : model.boards) layout.copies.push_back(b.copies);
  return layout;
}

void put(const Model& model, const std::vector<int>& kinds, const Rules& rules, Layout& layout,
         Work& work) {
  Putting putting(model, rules, layout);
  std::int64_t looked = 0;
  for (const int kind : kinds) looked += putting.put(kind);
  work.spend(looked * 10);
}

std::vector<int> ordered(const Model& model, std::vector<int> kinds, int by, double noise,
                         Random& random) {
  std::vector<double> keys;
  for (const Kind& k : model.kinds) {
    const double key =
        by == 0 ? static_cast<double>(k.size.area()) : static_cast<double>(key_of(k, by));
    keys.push_back(key * (noise > 0 ? random.between(1 - noise, 1) : 1));
  }
  const auto key = [&](int kind) { return keys[static_cast<std::size_t>(kind)]; };
  std::sort(kinds.begin(), kinds.end(),
            [&](int a, int b) { return key(a) != key(b) ? key(a) > key(b) : a < b; });
  return kinds;
}

}  // namespace kw::cutting::sheets
