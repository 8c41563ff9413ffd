#include "search.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace kw::cutting::sheets {
namespace {

// What is to be least: missing area, cost, and then that sheets are unevenly filled.
struct Measure {
  Wide missing = 0;
  std::int64_t cost = 0;
  double evenness = 0;
  [[nodiscard]] bool beats(const Measure& m) const {
    return std::tie(missing, cost) < std::tie(m.missing, m.cost);
  }
};

class Search {
 public:
  Search(const Model& model, std::int64_t bound, const SearchEffort& effort, Work& work,
         const std::function<void(const Pattern&)>& on_sheet)
      : model_(model),
        bound_(bound),
        effort_(effort),
        random_(effort.seed),
        work_(work),
        on_sheet_(on_sheet) {}

  Found run() {
    const int rounds = effort_.rounds;
    const std::int64_t most = work_.done() + effort_.work;
    begin();
    for (int idle = 0; idle < rounds && work_.done() < most && !is_done() && work_.spend(1);
         ++idle) {
      if (round(static_cast<double>(idle) / rounds)) idle = -1;
    }
    return found();
  }

 private:
  void begin() {
    std::vector<int> all;
    for (std::size_t k = 0; k < model_.kinds.size(); ++k)
      all.insert(all.end(), static_cast<std::size_t>(model_.kinds[k].count), static_cast<int>(k));
    bool is_first = true;
    for (int by = 0; by < 5; ++by) {
      for (int way = 0; way < 6; ++way) {
        if (!is_first && (is_done() || work_.is_over())) return;
        Layout layout = empty_layout(model_);
        const Rules rules{.fit = static_cast<Rules::Fit>(way % 3),
                          .split = static_cast<Rules::Split>((way + by) % 4)};
        put(model_, ordered(model_, all, by, 0, random_), rules, layout, work_);
        const Measure measure = measure_of(layout);
        if (is_first || measure.beats(best_measure_)) keep_best(layout, measure);
        is_first = false;
      }
    }
    now_ = best_;
    now_measure_ = best_measure_;
  }

  // True when the best got better.
  bool round(double cooled) {
    if (now_.sheets.empty()) now_ = best_, now_measure_ = best_measure_;
    Layout next = now_;
    std::vector<int> loose = std::move(next.missing);
    next.missing.clear();
    const int most = std::min<int>(static_cast<int>(next.sheets.size()), 4);
    for (int n = 1 + random_.under(static_cast<std::size_t>(std::max(most, 1))); n > 0; --n)
      empty_one(next, loose);
    Rules rules{.fit = static_cast<Rules::Fit>(random_.under(3)),
                .split = static_cast<Rules::Split>(random_.under(4))};
    if (random_.under(2) == 0) rules.board = random_.under(model_.boards.size());
    const double noise = random_.under(3) == 0 ? 0 : random_.between(0, 0.6);
    put(model_, ordered(model_, std::move(loose), random_.under(5), noise, random_), rules, next,
        work_);
    const Measure measure = measure_of(next);
    const bool is_better = measure.beats(best_measure_);
    if (is_accepted(measure, cooled)) {
      if (on_sheet_) tell(next);
      now_ = next;
      now_measure_ = measure;
    }
    if (is_better) keep_best(next, measure);
    return is_better;
  }

  bool is_accepted(const Measure& m, double cooled) {
    if (m.beats(now_measure_)) return true;
    if (now_measure_.beats(m)) return false;
    const double loss = m.evenness - now_measure_.evenness;
    if (loss <= 0) return true;
    return random_.between(0, 1) < std::exp(-loss / (0.05 * (1 - cooled) + 1e-4));
  }

  // The emptiest of a few, or any.
  void empty_one(Layout& layout, std::vector<int>& loose) {
    if (layout.sheets.empty()) return;
    std::size_t chosen = static_cast<std::size_t>(random_.under(layout.sheets.size()));
    for (int tries = random_.under(3); tries > 0; --tries) {
      const auto other = static_cast<std::size_t>(random_.under(layout.sheets.size()));
      if (fill_of(layout.sheets[other]) < fill_of(layout.sheets[chosen])) chosen = other;
    }
    OpenSheet& sheet = layout.sheets[chosen];
    loose.insert(loose.end(), sheet.made.begin(), sheet.made.end());
    ++layout.copies[static_cast<std::size_t>(sheet.pattern.board)];
    std::swap(sheet, layout.sheets.back());
    layout.sheets.pop_back();
  }

  [[nodiscard]] double fill_of(const OpenSheet& s) const {
    const Board& board = model_.boards[static_cast<std::size_t>(s.pattern.board)];
    return static_cast<double>(s.used) / static_cast<double>(board.size.area());
  }

  [[nodiscard]] Measure measure_of(const Layout& layout) const {
    Measure m;
    for (const int k : layout.missing)
      m.missing += model_.kinds[static_cast<std::size_t>(k)].size.area();
    for (const OpenSheet& s : layout.sheets) {
      m.cost += model_.boards[static_cast<std::size_t>(s.pattern.board)].price;
      m.evenness -= fill_of(s) * fill_of(s);
    }
    return m;
  }

  void keep_best(const Layout& layout, const Measure& measure) {
    best_ = layout;
    best_measure_ = measure;
    if (on_sheet_) tell(layout);
    if (measure.missing == 0) work_.report(measure.cost, bound_);
  }

  void tell(const Layout& layout) {
    for (const OpenSheet& s : layout.sheets) on_sheet_(s.pattern);
  }

  [[nodiscard]] bool is_done() const {
    return best_measure_.missing == 0 && best_measure_.cost <= bound_ && !best_.sheets.empty();
  }

  Found found() {
    Found found{.cost = best_measure_.cost, .is_whole = best_measure_.missing == 0};
    for (OpenSheet& s : best_.sheets) found.patterns.push_back(std::move(s.pattern));
    return found;
  }

  const Model& model_;
  std::int64_t bound_ = 0;
  SearchEffort effort_ = {};
  Random random_;
  Work& work_;
  const std::function<void(const Pattern&)>& on_sheet_;
  Layout best_ = {}, now_ = {};
  Measure best_measure_ = {}, now_measure_ = {};
};

}  // namespace

Found search(const Model& model, std::int64_t bound, const SearchEffort& effort, Work& work,
             const std::function<void(const Pattern&)>& on_sheet) {
  return Search(model, bound, effort, work, on_sheet).run();
}

}  // namespace kw::cutting::sheets
