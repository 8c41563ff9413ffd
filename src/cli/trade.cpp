// The shop's books from the command line: what stands in them, entries, batches, costs, papers.
#include <algorithm>
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/papers.h"
#include "kerfwright/planbook/trade_lists.h"
#include "kerfwright/store/shelf.h"
#include "kerfwright/trade/price_list.h"
#include "kerfwright/trade/yard_files.h"
#include "kerfwright/wire/entry_json.h"
#include "kerfwright/workbench/clock.h"
#include "kerfwright/workbench/trade_work.h"

#include "commands.h"
#include "files.h"
#include "opening.h"
#include "progress.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

constexpr std::uintmax_t most_bytes = 16 << 20;

class TradeCommand {
 public:
  explicit TradeCommand(const TradeOptions& options) : options_(options) {}

  int run() {
    if (!open()) return not_done;
    if (options_.verb == "show") return show();
    if (options_.verb == "enter") return enter_file();
    if (options_.verb == "import") return import();
    if (options_.verb == "export") return write_files();
    if (options_.verb == "plan") return plan();
    if (options_.verb == "sawn") return sawn();
    if (options_.verb == "cost") return cost();
    if (options_.verb == "labels") return labels();
    return paper();
  }

 private:
  bool open() {
    const fs::path file = fs::path(options_.folder) / ".kerfwright" / "history.db";
    auto cabinet = Cabinet::open({file}, Hands::one);
    print_plain(cabinet.diagnostics());
    if (!cabinet) return false;
    shop_.emplace(*cabinet);
    const Diagnostics faults = shop_->catch_up();
    print_plain(faults);
    return faults.empty();
  }

  [[nodiscard]] const std::string& currency() const { return shop_->settings().currency; }
  [[nodiscard]] LengthUnit unit() const {
    return unit_of(options_.unit).value_or(LengthUnit::inch);
  }

  int told(const Diagnostics& faults, const std::string& done) {
    print_plain(faults);
    if (has_errors(faults)) return not_done;
    fmt::print("{}\n", done);
    return all_well;
  }

  int enter(std::vector<trade::Entry> entries, const std::string& done) {
    return told(shop_->enter(std::move(entries), shop_->books().entries, now_in_milliseconds()),
                done);
  }

  int show() {
    const trade::Books& books = shop_->books();
    const auto section = [](const char* title, const Table& table) {
      if (!table.rows.empty())
        fmt::print("{}\n\n{}\n", title, to_text(without_empty_columns(table)));
    };
    const std::string& what = options_.what;
    const auto wants = [&](const char* name) { return what.empty() || what == name; };
    if (wants("boards")) section("Boards", rack_table(books, unit(), currency()));
    if (wants("orders")) section("Orders", orders_table(books, currency()));
    if (wants("batches")) section("Batches", batches_table(books, currency()));
    if (wants("buy")) {
      const trade::Day day = today();
      section("To buy within a week",
              to_buy_table(to_buy_until(books, shop_->schedule(shop_->labour(), day), day + 7),
                           unit(), currency()));
    }
    if (wants("prices")) section("Prices", prices_table(books, unit(), currency()));
    if (wants("money")) section("Accounts", accounts_table(books, currency()));
    if (what == "entries") section("Entries", journal_table(shop_->journal(), currency()));
    return all_well;
  }

  // One entry a line, as docs/trade.md has them.
  int enter_file() {
    Diagnostics faults;
    const auto text = keep(read_file(options_.file, most_bytes), faults);
    print_plain(faults);
    if (!text) return not_done;
    std::vector<trade::Entry> entries;
    std::size_t line = 0, from = 0;
    while (from < text->content.size()) {
      const std::size_t end = std::min(text->content.find('\n', from), text->content.size());
      const std::string_view bytes(text->content.data() + from, end - from);
      from = end + 1;
      ++line;
      if (bytes.find_first_not_of(" \t\r") == std::string_view::npos) continue;
      auto entry = read_entry(bytes);
      for (Diagnostic d : entry.diagnostics()) {
        d.message = fmt::format("{}:{}: {}", options_.file, line, d.message);
        print_plain({d});
      }
      if (!entry) return not_done;
      entries.push_back(*std::move(entry));
    }
    const std::size_t count = entries.size();
    return enter(std::move(entries), fmt::format("{} entries made", count));
  }

  int import() {
    Diagnostics faults;
    const auto text = keep(read_file(options_.file, most_bytes), faults);
    print_plain(faults);
    if (!text) return not_done;
    const ImportOf what = options_.what == "prices" ? ImportOf::prices
                          : options_.yard.empty()   ? ImportOf::boards_found
                                                    : ImportOf::boards_bought;
    auto entries = entries_in(*text, what, options_.yard, unit(), today());
    print_faults(*text, entries.diagnostics);
    if (has_errors(entries.diagnostics)) return not_done;
    return enter(std::move(entries.value), "entered");
  }

  int write_files() {
    const fs::path out = options_.out.empty() ? fs::path("out/trade") : fs::path(options_.out);
    const std::vector<File> files = {
        {"stock.csv", write_rack(trade::rack_of(shop_->books()), unit())},
        {"prices.csv", write_seen_prices(shop_->books().prices, unit())},
        {"books.jsonl", shop_->journal_lines()}};
    return told(write_all(files, out), fmt::format("3 files in {}", out.string()));
  }

  [[nodiscard]] WorkTold telling(Progress& progress) const {
    return [&progress](std::string_view stage, double fraction, std::string_view words) {
      progress.now(fmt::format("{} ({:.0f} %) {}", stage, 100 * fraction, words));
      return true;
    };
  }

  void print_cost(const CostTold& told) const {
    fmt::print("{}\n", to_text(cost_table(told.cost, currency())));
    fmt::print("time: {:.1f} h, with a chance of {:.0f} % between {:.1f} and {:.1f} h\n",
               told.time.minutes / 60, 100 * told.time.chance, told.time.least / 60,
               told.time.most / 60);
    for (const std::string& words : told.words) fmt::print("note: {}\n", words);
  }

  void print_price(const CostTold& told) const {
    fmt::print("each of {} costs {}", told.cost.pieces, written(told.cost.each, currency()));
    if (told.sale) {
      fmt::print("; at a margin of {:.1f} % its price is {} (tax {}, fees {})",
                 100 * told.sale->margin, written(told.sale->price, currency()),
                 written(told.sale->tax, currency()), written(told.sale->fee, currency()));
    }
    fmt::print("\n");
  }

  int plan() {
    const trade::Day day = today();
    Outcome<MadeBatch> made = Diagnostics();
    {
      Progress progress;
      made = plan_batch(scene_of(*shop_, options_.folder, day),
                        {.is_batch = true,
                         .name = options_.name,
                         .orders = options_.numbers,
                         .seconds = options_.seconds},
                        telling(progress));
    }
    print_plain(made.diagnostics());
    if (!made) return not_done;
    for (const std::string& words : made->told.proof) fmt::print("{}\n", words);
    print_cost(made->told.cost);
    for (const OrderTold& order : made->told.orders) {
      fmt::print("order {}: {} x {} at {}, done {}, promise {}{}\n", order.order, order.count,
                 order.piece, written(order.cost_each, currency()),
                 trade::format_day(order.load.ends), trade::format_day(order.load.promise),
                 order.load.is_risky ? ", after it is due" : "");
    }
    fmt::print("\n{}\n", to_text(to_buy_table(made->told.to_buy, unit(), currency())));
    if (!options_.out.empty()) {
      const Diagnostics faults = write_file(options_.out, made->papers.sawing_pdf);
      if (told(faults, "sawing plan in " + options_.out) != all_well) return not_done;
    }
    if (!options_.is_booked) return all_well;
    const int after = shop_->books().entries;
    return told(shop_->book(made->entry, made->papers, after, day, now_in_milliseconds()),
                fmt::format("booked as batch {}", after + 1));
  }

  int sawn() {
    return told(shop_->saw_up(options_.numbers.front(), shop_->books().entries, today(),
                              now_in_milliseconds()),
                "sawn; what is kept of the boards is on the rack");
  }

  int cost() {
    SizesSet sizes;
    Diagnostics faults;
    const auto overrides = keep(overrides_of(options_.set), faults);
    print_plain(faults);
    if (!overrides) return not_done;
    for (const Override& o : *overrides) sizes.emplace_back(o.name, o.formula);
    const std::vector<int> counts =
        options_.numbers.empty() ? std::vector<int>{1} : options_.numbers;
    Outcome<CostTold> made = Diagnostics();
    {
      Progress progress;
      made = reckon(
          scene_of(*shop_, options_.folder, today()),
          {.piece = options_.name, .sizes = sizes, .counts = counts, .seconds = options_.seconds},
          telling(progress));
    }
    print_plain(made.diagnostics());
    if (!made) return not_done;
    print_cost(*made);
    print_price(*made);
    if (made->curve.size() > 1) fmt::print("\n{}", to_text(curve_table(made->curve, currency())));
    return all_well;
  }

  int labels() {
    std::vector<trade::RackedBoard> boards;
    for (const auto& [number, board] : shop_->books().boards) {
      if (trade::is_on_rack(board)) boards.push_back(board);
    }
    return write_pdf(labels_of(boards, unit(), paper_of(options_.paper)), "labels.pdf");
  }

  int paper() {
    const auto found = shop_->books().orders.find(options_.numbers.front());
    if (found == shop_->books().orders.end()) {
      print_plain({{.code = "trade.no-such-order",
                    .message = fmt::format("there is no order {}", options_.numbers.front()),
                    .hint = "look at the orders: kerfwright trade show FOLDER orders"}});
      return not_done;
    }
    const trade::Order& order = found->second;
    const PaperOptions paper{.paper = paper_of(options_.paper),
                             .today = today(),
                             .title = title_of(options_.folder, order.facts.piece)};
    const bool is_quote = options_.verb == "quote";
    return write_pdf(is_quote ? quote_of(order, shop_->settings(), paper)
                              : invoice_of(order, shop_->settings(), paper),
                     fmt::format("{}-{}.pdf", options_.verb, order.number));
  }

  int write_pdf(const Book& book, const std::string& usual) {
    const auto pdf = to_pdf(book);
    print_plain(pdf.diagnostics());
    if (!pdf) return not_done;
    const std::string out = options_.out.empty() ? usual : options_.out;
    return told(write_file(out, *pdf), out);
  }

  const TradeOptions& options_;
  std::optional<Shop> shop_ = {};
};

}  // namespace

int look_after_trade(const TradeOptions& options) {
  return TradeCommand(options).run();
}

}  // namespace kw::cli
