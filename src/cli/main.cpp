#include <CLI/CLI.hpp>

#include "commands.h"

namespace {

void add_make(CLI::App& app, kw::cli::MakeOptions& options) {
  auto* command = app.add_subcommand(
      "make", "make every file of a piece's plan: lists, drawings, plan book, 3D files");
  command->add_option("piece", options.piece, "the piece file (.toml)")->required();
  command->add_option("--out", options.out, "folder for the files (default: out/NAME)");
  command->add_option("--set", options.set, "another value for a size: NAME=FORMULA")->take_all();
  command->add_option("--unit", options.unit, "write lengths in this unit")
      ->check(CLI::IsMember({"in", "mm"}));
  command->add_option("--paper", options.paper, "of the plan book")
      ->check(CLI::IsMember({"letter", "a4"}));
  command->add_option("--seconds", options.seconds, "for planning the sawing")
      ->check(CLI::Range(0.05, 3600.0));
  command->add_flag("--no-step", options.no_step, "leave the STEP file out");
}

void add_publish(CLI::App& app, kw::cli::PublishOptions& options) {
  auto* command = app.add_subcommand(
      "publish", "make the editions of plans: book, bench sheets, web page, listing");
  command->add_option("pieces", options.pieces, "the piece files (.toml)")->required();
  command->add_option("--out", options.out, "folder for the files (default: out/published)");
  command->add_option("--set", options.set, "another value for a size: NAME=FORMULA")->take_all();
  command->add_option("--edition", options.editions, "which editions (default: inch and metric)")
      ->check(CLI::IsMember({"inch", "metric", "both"}));
  command
      ->add_option("--paper", options.paper, "of all (default: letter for inches, A4 for metric)")
      ->check(CLI::IsMember({"letter", "a4"}));
  command->add_option("--price", options.price, "of the plan, on its sales sheet: \"12.00 USD\"");
  command->add_option("--buyer", options.buyer, "name stamped at the foot of each page")
      ->check(CLI::Validator(
          [](const std::string& name) {
            return name.size() <= 120 ? std::string() : std::string("at most 120 bytes");
          },
          "TEXT"));
  command->add_option("--seconds", options.seconds, "for planning the sawing of each piece")
      ->check(CLI::Range(0.05, 3600.0));
}

void add_check(CLI::App& app, kw::cli::CheckOptions& options) {
  auto* command = app.add_subcommand("check", "say everything that is wrong with a piece file");
  command->add_option("piece", options.piece, "the piece file (.toml)")->required();
  command->add_option("--set", options.set, "another value for a size: NAME=FORMULA")->take_all();
  command->add_flag("--json", options.as_json, "as JSON");
  command->add_flag("--all", options.tells_all, "also what the checks found nothing wrong with");
}

void add_saw(CLI::App& app, kw::cli::SawOptions& options) {
  auto* command = app.add_subcommand(
      "saw", "buy and saw the boards of one piece or many at least cost, with proof");
  command->add_option("piece", options.pieces, "piece files; PIECE:COUNT makes several of one")
      ->required();
  command->add_option("--on-hand", options.on_hand, "boards on the rack (CSV)");
  command->add_option("--prices", options.prices, "what the yard asks (CSV)");
  command->add_option("--offcuts", options.offcuts, "what offcuts are worth, by length (CSV)");
  command->add_option("--out", options.out, "folder for the files (default: out/sawing)");
  command->add_option("--set", options.set, "another value for a size: NAME=FORMULA")->take_all();
  command->add_option("--unit", options.unit, "write lengths in this unit")
      ->check(CLI::IsMember({"in", "mm"}));
  command->add_option("--paper", options.paper, "of the diagrams")
      ->check(CLI::IsMember({"letter", "a4"}));
  command->add_option("--saw-depth", options.depth,
                      "saw boards one on another up to this depth (default: one at a time)");
  command->add_option("--seconds", options.seconds, "for the plans together")
      ->check(CLI::Range(0.05, 3600.0));
}

void add_cutting(CLI::App& app, kw::cli::SolveOptions& options) {
  auto* command = app.add_subcommand("cutting", "the optimisers of sawing plans by themselves");
  command->require_subcommand(1);
  auto* solve = command->add_subcommand(
      "solve", "best plan, bound and proof of a plain instance (docs/sawing.md has the layouts)");
  solve->add_option("file", options.file, "the instance")->required();
  solve->add_option("--seconds", options.seconds, "how long it may take")
      ->check(CLI::Range(0.05, 86400.0));
  solve->add_flag("--turn", options.may_turn, "parts of a sheet may be turned by a quarter");
  solve->add_flag("--json", options.as_json, "with the plan, as JSON");
}

void add_serve(CLI::App& app, kw::cli::ServeOptions& options) {
  auto* command = app.add_subcommand(
      "serve", "open the workbench: a page on this machine that does the whole job");
  command->add_option("what", options.what,
                      "a piece file, or a folder of them (default: this one)");
  command->add_option("--port", options.port, "of the page's address; 0: any that is free")
      ->check(CLI::Range(0, 65535));
  command->add_flag("--no-open", options.no_open, "do not open a browser");
  command->add_option(
      "--store", options.store,
      "where histories are kept: a file, or postgresql://... (default: in the folder)");
}

CLI::App* add_lumber(CLI::App& app, std::string& query, std::string& unit) {
  auto* command = app.add_subcommand("lumber", "what the tables say of wood and hardware");
  auto* find =
      command->add_subcommand("find", "every row whose name holds these words, with its source");
  find->add_option("name", query, "for instance \"white oak\", 2x4, \"screw 8\"")->required();
  find->add_option("--unit", unit, "write lengths in this unit")
      ->check(CLI::IsMember({"in", "mm"}));
  command->require_subcommand(1);
  return command;
}

void add_store(CLI::App& app, kw::cli::StoreOptions& options) {
  auto* command = app.add_subcommand("store", "look after what is kept: check, copy, export");
  command->require_subcommand(1);
  const auto add = [&](const char* verb, const char* words, const char* other) {
    auto* sub = command->add_subcommand(verb, words);
    sub->add_option("place", options.place, "a file, or postgresql://...")->required();
    if (other != nullptr) sub->add_option("copy", options.other, other)->required();
    sub->callback([&options, verb] { options.verb = verb; });
  };
  add("check", "look through all of it for faults", nullptr);
  add("backup", "copy it whole into a file", "the file, which must not be there yet");
  add("restore", "put a backup into an empty place", "the backup's file");
  add("export", "write all of it as open files", "the folder, which must not be there yet");
  add("import", "put an export into an empty place", "the export's folder");
}

void add_trade(CLI::App& app, kw::cli::TradeOptions& options) {
  auto* trade = app.add_subcommand(
      "trade",
      "the shop's books: boards, prices, orders, batches, money; not while the workbench is open");
  trade->require_subcommand(1);
  const auto add = [&](const char* verb, const char* words) {
    auto* sub = trade->add_subcommand(verb, words);
    sub->add_option("folder", options.folder, "the folder of the pieces")->required();
    sub->add_option("--unit", options.unit, "of lengths that name none")
        ->check(CLI::IsMember({"in", "mm"}));
    sub->callback([&options, verb] { options.verb = verb; });
    return sub;
  };
  const auto with_out = [&](CLI::App* sub, const char* words) {
    sub->add_option("--out", options.out, words);
    return sub;
  };
  const auto with_paper = [&](CLI::App* sub) {
    sub->add_option("--paper", options.paper)->check(CLI::IsMember({"letter", "a4"}));
    return sub;
  };
  add("show", "what stands in the books")
      ->add_option("what", options.what, "only these")
      ->check(CLI::IsMember({"boards", "orders", "batches", "buy", "prices", "money", "entries"}));
  add("enter", "make entries, all or none")
      ->add_option("file", options.file, "an entry a line, as JSON (docs/trade.md)")
      ->required();
  auto* import = add("import", "enter boards or prices of a CSV file");
  import->add_option("what", options.what)->required()->check(CLI::IsMember({"boards", "prices"}));
  import->add_option("file", options.file)->required();
  import->add_option("--bought-at", options.yard, "the yard where the boards were bought");
  with_out(add("export", "write boards, prices and entries as CSV and JSON lines"),
           "the folder (default: out/trade)");
  auto* plan = with_out(add("plan", "plan orders as one batch"), "file for the sawing plan (PDF)");
  plan->add_option("orders", options.numbers)->required();
  plan->add_option("--name", options.name, "of the batch");
  plan->add_option("--seconds", options.seconds, "for the sawing plans")
      ->check(CLI::Range(0.05, 3600.0));
  plan->add_flag("--book", options.is_booked, "enter it into the books");
  add("sawn", "a batch's boards are sawn as planned")
      ->add_option("batch", options.numbers)
      ->required()
      ->expected(1);
  auto* cost = add("cost", "what a piece costs, line by line, and made so many at a time");
  cost->add_option("piece", options.name, "its file's name without .toml")->required();
  cost->add_option("--count", options.numbers, "how many in one go; may be given several times")
      ->check(CLI::Range(1, 1000));
  cost->add_option("--set", options.set, "another value for a size: NAME=FORMULA");
  cost->add_option("--seconds", options.seconds)->check(CLI::Range(0.05, 3600.0));
  for (const char* verb : {"quote", "invoice"}) {
    with_paper(with_out(add(verb, "the paper of an order, as PDF"), "the file"))
        ->add_option("order", options.numbers)
        ->required()
        ->expected(1);
  }
  with_paper(with_out(add("labels", "labels for the boards on the rack, as PDF"), "the file"));
}

void add_offer(CLI::App& app, kw::cli::OfferCommand& options) {
  auto* command =
      app.add_subcommand("offer", "offer a piece to be fitted to a buyer's sizes, or take it back");
  command->add_option("name", options.name, "of its page: small letters, figures, hyphens")
      ->required();
  auto* piece = command->add_option("piece", options.piece, "the piece file (.toml)");
  command->add_option("--store", options.store, "a file, or postgresql://...")->required();
  command->add_option("--size", options.sizes, "that may be set: NAME, or NAME=LEAST..MOST")
      ->take_all();
  command->add_option("--terms", options.terms, "a text file with the terms");
  auto* back = command->add_flag("--withdraw", options.withdraws, "offer it no more");
  piece->excludes(back);
  command->callback([&options] {
    if (options.piece.empty() && !options.withdraws) throw CLI::RequiredError("piece");
  });
}

void add_fit(CLI::App& app, kw::cli::FitCommand& options) {
  auto* command = app.add_subcommand(
      "fit", "public pages where buyers set sizes and get the plan book (docs/running.md)");
  command->add_option("--store", options.store, "a file, or postgresql://...")->required();
  command->add_option("--address", options.address, "of this machine, to listen at");
  command->add_option("--port", options.port, "0: any that is free")->check(CLI::Range(0, 65535));
  command->add_flag("--behind-proxy", options.is_behind_proxy,
                    "believe X-Forwarded-For: only with a proxy that sets it");
  command->add_option("--per-hour", options.per_hour, "books for one buyer")
      ->check(CLI::Range(1, 100000));
  command->add_option("--waiting", options.waiting, "books that may wait at once")
      ->check(CLI::Range(1, 100000));
}

void add_work(CLI::App& app, kw::cli::WorkCommand& options) {
  auto* command = app.add_subcommand("work", "make the books that buyers ordered; run any number");
  command->add_option("--store", options.store, "a file, or postgresql://...")->required();
  command->add_option("--seconds", options.seconds, "for the sawing plans of a book")
      ->check(CLI::Range(0.05, 60.0));
  command->add_flag("--once", options.is_once, "end when none waits");
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Kerfwright: from a piece file to numbers that a saw can trust.", "kerfwright"};
  app.set_version_flag("--version", KW_VERSION);
  app.require_subcommand(1);
  kw::cli::MakeOptions make;
  kw::cli::CheckOptions check;
  kw::cli::PublishOptions publish;
  std::string query, unit = "in";
  add_make(app, make);
  add_check(app, check);
  add_publish(app, publish);
  kw::cli::SolveOptions solve;
  add_cutting(app, solve);
  kw::cli::SawOptions saw;
  add_saw(app, saw);
  kw::cli::ServeOptions serve{.version = KW_VERSION};
  add_serve(app, serve);
  add_lumber(app, query, unit);
  kw::cli::StoreOptions store;
  add_store(app, store);
  kw::cli::TradeOptions trade;
  add_trade(app, trade);
  kw::cli::OfferCommand offer;
  add_offer(app, offer);
  kw::cli::FitCommand fit;
  add_fit(app, fit);
  kw::cli::WorkCommand work;
  add_work(app, work);
  CLI11_PARSE(app, argc, argv);
  if (app.got_subcommand("make")) return kw::cli::make(make);
  if (app.got_subcommand("publish")) return kw::cli::publish(publish);
  if (app.got_subcommand("check")) return kw::cli::check(check);
  if (app.got_subcommand("cutting")) return kw::cli::solve_instance(solve);
  if (app.got_subcommand("saw")) return kw::cli::saw_pieces(saw);
  if (app.got_subcommand("serve")) return kw::cli::serve(serve);
  if (app.got_subcommand("trade")) return kw::cli::look_after_trade(trade);
  if (app.got_subcommand("store")) return kw::cli::look_after_store(store);
  if (app.got_subcommand("offer")) return kw::cli::offer(offer);
  if (app.got_subcommand("fit")) return kw::cli::fit(fit);
  if (app.got_subcommand("work")) return kw::cli::work(work);
  return kw::cli::lumber_find(query, unit);
}
