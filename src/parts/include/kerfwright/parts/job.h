// What is sawn together: one piece or many, each so many times, out of what is on the rack and what
// the yard sells. Parts of equal stock are pooled over all pieces into one plan.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/measure/money.h"
#include "kerfwright/parts/cut_list.h"

namespace kw {

struct JobPiece {
  const Resolved* piece = nullptr;
  const CutList* cut_list = nullptr;
  int count = 1;  // how many are made
};

// A board or sheet on hand. Suits a stock of its name (as sold, or as a piece calls it), or one of
// its thickness when it has no name; of its species, where both say one; at least as wide.
struct RackBoard {
  std::string label = {};             // written on it, so that it is found again
  std::string stock = {};             // "2x4", "plywood 3/4"; "": by its sizes
  std::string species = {};           // "": any
  Length thickness = {}, width = {};  // zero: as the stock
  Length length = {};
  int count = 1;
  Money value = {};  // what using one is reckoned at; nothing is paid for it
  std::vector<std::pair<Length, Length>> faults = {};  // from, to: along it, no part may lie there
  friend bool operator==(const RackBoard&, const RackBoard&) = default;
};

// What the yard asks for a length of a stock.
struct YardPrice {
  std::string stock = {};
  std::string species = {};  // "": any
  Length length = {};
  Length width = {};  // of a sheet; zero: as the stock's
  Money price = {};
  friend bool operator==(const YardPrice&, const YardPrice&) = default;
};

struct Job {
  std::vector<JobPiece> pieces = {};
  std::vector<RackBoard> rack = {};
  std::vector<YardPrice> prices = {};  // of a stock that is named here, instead of the piece's own
  std::vector<OffcutWorth> offcut_worths = {};
  Length saw_depth = {};  // boards may be sawn one on another up to this; zero: one at a time
  std::string currency = {};
  LengthUnit unit = LengthUnit::inch;
  Length rule = {};
};

// One piece, once. It and its list must outlive the job.
[[nodiscard]] Job job_of(const Resolved& piece, const CutList& cut_list);

// A part of a piece of the job.
struct PartRef {
  int piece = 0, part = 0;
  friend auto operator<=>(const PartRef&, const PartRef&) = default;
};
[[nodiscard]] const Part& part_of(const Job& job, PartRef ref);
// "B", or "2B" where the job has several pieces: B of the second.
[[nodiscard]] std::string label_of(const Job& job, PartRef ref);

// A stock of the job: what pieces call by whatever names, all of one section and wood.
struct JobStock {
  std::string name = {};                          // "leg", or "leg, rail"
  ResolvedStock stock = {};                       // `buy` and `have` hold the offers of all
  std::vector<std::pair<int, int>> members = {};  // piece of the job, index into its stocks
};

// "leg, rail" for a file: "leg-rail".
[[nodiscard]] std::string file_name_of(const JobStock& stock);

// The stocks that are sawn together, in the order in which pieces first name them. Boards that are
// used at several widths are pooled where every part has square ends: they are crosscut, then
// ripped. `sawing.prices-differ`: pieces ask different prices for one length; the lower counts.
[[nodiscard]] Reading<std::vector<JobStock>> stocks_of(const Job& job);

}  // namespace kw
