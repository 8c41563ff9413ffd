// The commands of the program, a file each. Each gives the exit code: 0 done, 1 done but something
// is wrong with the piece, 2 not done.
#pragma once

#include <string>
#include <vector>

namespace kw::cli {

inline constexpr int all_well = 0;
inline constexpr int with_faults = 1;
inline constexpr int not_done = 2;

struct MakeOptions {
  std::string piece = {};             // path
  std::string out = {};               // folder; empty: out/<name of the piece file>
  std::vector<std::string> set = {};  // NAME=FORMULA
  std::string unit = {};              // "in", "mm", "" as the piece says
  std::string paper = "letter";       // or "a4"
  bool no_step = false;
  double seconds = 4;  // for the sawing plans together
};
int make(const MakeOptions& options);

struct PublishOptions {
  std::vector<std::string> pieces = {};    // paths
  std::string out = {};                    // folder; empty: out/published
  std::vector<std::string> set = {};       // NAME=FORMULA, for each piece that has it
  std::vector<std::string> editions = {};  // "inch", "metric", "both"; none: inch and metric
  std::string paper = {};                  // "letter", "a4", "" by the edition
  std::string buyer = {};                  // whose copy it is
  std::string price = {};                  // of the plan, on its sales sheet
  double seconds = 4;                      // for the sawing plans of a piece together
};
int publish(const PublishOptions& options);

struct CheckOptions {
  std::string piece = {};
  std::vector<std::string> set = {};
  bool as_json = false;
  bool tells_all = false;  // findings that pass, too
};
int check(const CheckOptions& options);

struct SawOptions {
  std::vector<std::string> pieces = {};                 // PATH or PATH:COUNT
  std::string on_hand = {}, prices = {}, offcuts = {};  // CSV files; "" none
  std::string out = {};                                 // folder; empty: out/sawing
  std::vector<std::string> set = {};                    // NAME=FORMULA, for each piece that has it
  std::string unit = {};                                // "in", "mm", "" as the first piece says
  std::string paper = "letter";                         // or "a4"
  std::string depth = {};  // of the saw, for boards sawn one on another; "" one at a time
  double seconds = 10;     // for the plans together
};
int saw_pieces(const SawOptions& options);

struct SolveOptions {
  std::string file = {};
  double seconds = 60;
  bool may_turn = false;  // parts of a sheet by a quarter turn
  bool as_json = false;
};
int solve_instance(const SolveOptions& options);

int lumber_find(const std::string& query, const std::string& unit);

struct StoreOptions {
  std::string verb = {};   // check, backup, restore, export, import
  std::string place = {};  // a file, or postgresql://...
  std::string other = {};  // the backup's file, the export's folder
};
int look_after_store(const StoreOptions& options);

struct TradeOptions {
  std::string verb = {};    // show, enter, import, export, plan, sawn, cost, quote, invoice, labels
  std::string folder = {};  // of the pieces, whose books they are
  std::string what = {};    // show: boards, orders, batches, buy, prices, money, entries; import:
                            // boards, prices
  std::string file = {}, out = {}, yard = {};
  std::string name = {};              // of a batch, of a piece
  std::vector<int> numbers = {};      // orders, a batch, counts
  std::vector<std::string> set = {};  // NAME=FORMULA
  std::string unit = {};              // "in", "mm"
  std::string paper = "letter";
  bool is_booked = false;
  double seconds = 8;
};
int look_after_trade(const TradeOptions& options);

struct OfferCommand {
  std::string name = {};                // of the page's address
  std::string piece = {};               // path
  std::string store = {};               // a file, or postgresql://...
  std::string terms = {};               // path of a text; "" none
  std::vector<std::string> sizes = {};  // NAME, or NAME=LEAST..MOST
  bool withdraws = false;
};
int offer(const OfferCommand& options);

struct FitCommand {
  std::string store = {};
  std::string address = "127.0.0.1";
  int port = 7346;
  bool is_behind_proxy = false;
  int per_hour = 20, waiting = 200;
};
int fit(const FitCommand& options);

struct WorkCommand {
  std::string store = {};
  double seconds = 2;
  bool is_once = false;
};
int work(const WorkCommand& options);

struct ServeOptions {
  std::string what = {};   // a folder, or a piece file; "": where we are
  std::string store = {};  // of the histories: a file, or postgresql://...; "": in the folder
  int port = 7345;         // 0: any
  bool no_open = false;    // do not open a browser
  std::string version = {};
};
int serve(const ServeOptions& options);

}  // namespace kw::cli
