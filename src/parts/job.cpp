#include "kerfwright/parts/job.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <map>

#include "kerfwright/measure/text.h"

#include "ends_of.h"

namespace kw {
namespace {

const ResolvedStock& stock_at(const Job& job, int piece, int stock) {
  return job.pieces[static_cast<std::size_t>(piece)].piece->stocks[static_cast<std::size_t>(stock)];
}

// Whether all parts of a stock are crosscut square, so that they may be ripped afterwards.
bool is_square(const Job& job, int piece, int stock) {
  const auto& parts = job.pieces[static_cast<std::size_t>(piece)].cut_list->parts;
  return std::all_of(parts.begin(), parts.end(), [&](const Part& part) {
    return part.stock != stock ||
           (slope_of(part.ends[0], part.size) == 0 && slope_of(part.ends[1], part.size) == 0);
  });
}

bool has_parts(const Job& job, int piece, int stock) {
  const JobPiece& p = job.pieces[static_cast<std::size_t>(piece)];
  return p.count > 0 && std::any_of(p.cut_list->parts.begin(), p.cut_list->parts.end(),
                                    [&](const Part& part) { return part.stock == stock; });
}

class Pooling {
 public:
  explicit Pooling(const Job& job) : job_(job) {}

  Reading<std::vector<JobStock>> run() {
    for (std::size_t p = 0; p < job_.pieces.size(); ++p) {
      const auto& stocks = job_.pieces[p].piece->stocks;
      for (std::size_t s = 0; s < stocks.size(); ++s) {
        if (has_parts(job_, static_cast<int>(p), static_cast<int>(s)))
          add(static_cast<int>(p), static_cast<int>(s));
      }
    }
    tell_apart();
    return std::move(reading_);
  }

 private:
  // Stocks of one name that are not sawn together: "leg", "leg 2".
  void tell_apart() {
    std::map<std::string, int> seen;
    for (JobStock& pool : reading_.value) {
      const int number = ++seen[pool.name];
      if (number > 1) pool.name += fmt::format(" {}", number);
    }
  }

  void add(int piece, int stock) {
    const ResolvedStock& s = stock_at(job_, piece, stock);
    for (JobStock& pool : reading_.value) {
      if (!suits(pool, piece, stock)) continue;
      pool.members.emplace_back(piece, stock);
      join(pool, s);
      return;
    }
    reading_.value.push_back({s.name, s, {{piece, stock}}});
  }

  [[nodiscard]] bool suits(const JobStock& pool, int piece, int stock) const {
    const ResolvedStock& a = pool.stock;
    const ResolvedStock& b = stock_at(job_, piece, stock);
    if (a.is_sheet != b.is_sheet || !(a.bought == b.bought) || a.species != b.species ||
        a.sold_as != b.sold_as || a.sheet_length != b.sheet_length) {
      return false;
    }
    if (a.used == b.used) return true;
    return a.used.thickness == b.used.thickness && is_square(job_, piece, stock) &&
           std::all_of(pool.members.begin(), pool.members.end(),
                       [&](const auto& m) { return is_square(job_, m.first, m.second); });
  }

  void join(JobStock& pool, const ResolvedStock& s) {
    if ((", " + pool.name + ",").find(", " + s.name + ",") == std::string::npos)
      pool.name += ", " + s.name;
    pool.stock.used.width = std::max(pool.stock.used.width, s.used.width);
    pool.stock.have.insert(pool.stock.have.end(), s.have.begin(), s.have.end());
    if (s.has_common_lengths && !pool.stock.has_common_lengths) return;
    if (pool.stock.has_common_lengths && !s.has_common_lengths) {
      pool.stock.buy = s.buy;
      pool.stock.has_common_lengths = false;
      return;
    }
    for (const Offer& offer : s.buy) join(pool.stock, offer, s);
  }

  void join(ResolvedStock& into, const Offer& offer, const ResolvedStock& from) {
    const auto same = std::find_if(into.buy.begin(), into.buy.end(),
                                   [&](const Offer& o) { return o.length == offer.length; });
    if (same == into.buy.end()) {
      into.buy.push_back(offer);
      return;
    }
    if (!offer.price || same->price == offer.price) return;
    if (same->price) {
      reading_.diagnostics.push_back(
          {.code = "sawing.prices-differ",
           .severity = Severity::advice,
           .at = from.at,
           .message = fmt::format("{} {} has two prices in this job; the lower one counts",
                                  from.sold_as, format_length(offer.length, {.unit = job_.unit})),
           .hint = "give the yard's prices once, with --prices"});
    }
    same->price = same->price ? std::min(*same->price, *offer.price) : offer.price;
  }

  const Job& job_;
  Reading<std::vector<JobStock>> reading_ = {};
};

}  // namespace

Job job_of(const Resolved& piece, const CutList& cut_list) {
  return {.pieces = {{&piece, &cut_list, 1}},
          .currency = piece.currency,
          .unit = piece.unit,
          .rule = cut_list.rule};
}

const Part& part_of(const Job& job, PartRef ref) {
  return job.pieces[static_cast<std::size_t>(ref.piece)]
      .cut_list->parts[static_cast<std::size_t>(ref.part)];
}

std::string label_of(const Job& job, PartRef ref) {
  const std::string& letter = part_of(job, ref).letter;
  return job.pieces.size() > 1 ? fmt::format("{}{}", ref.piece + 1, letter) : letter;
}

std::string file_name_of(const JobStock& stock) {
  std::string file;
  for (const char c : stock.name) {
    if (c == ',') continue;
    file += c == ' ' ? '-' : c;
  }
  return file;
}

Reading<std::vector<JobStock>> stocks_of(const Job& job) {
  return Pooling(job).run();
}

}  // namespace kw
