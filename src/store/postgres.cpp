#include "postgres.h"

#include <array>
#include <chrono>
#include <fmt/core.h>
#include <thread>

namespace kw::storing {

namespace {

constexpr Dialect words_of_postgres = {"BIGINT", "BYTEA", "BYTEA", " FOR UPDATE SKIP LOCKED"};

// Of pg_type.dat in PostgreSQL's source; they are fixed for ever.
constexpr Oid oid_of_bytes = 17, oid_of_number = 20;

// Every wait of ours ends. Locks are held by us for moments only.
constexpr const char* settings =
    "SET synchronous_commit = on; SET client_min_messages = warning; SET lock_timeout = '20s'; "
    "SET statement_timeout = '60s'; SET idle_in_transaction_session_timeout = '60s'";

// One at a time makes the tables of a schema; one alone, or many, have it open.
constexpr const char* key_of_form = "hashtext('kerfwright form ' || current_schema())";
constexpr const char* key_of_hands = "hashtext('kerfwright hands ' || current_schema())";

using Eight = std::array<char, 8>;

Eight eight_of(std::int64_t number) {
  Eight bytes = {};
  for (std::size_t i = 0; i < 8; ++i)
    bytes[7 - i] = static_cast<char>(static_cast<std::uint64_t>(number) >> (8 * i) & 0xFFU);
  return bytes;
}

std::int64_t number_of(std::string_view bytes) {
  std::uint64_t number = !bytes.empty() && (bytes[0] & 0x80) != 0 ? ~std::uint64_t{0} : 0;
  for (const char byte : bytes) number = number << 8 | static_cast<unsigned char>(byte);
  return static_cast<std::int64_t>(number);
}

// The values as libpq takes them.
struct Sent {
  std::vector<Eight> numbers = {};
  std::vector<Oid> types = {};
  std::vector<const char*> bytes = {};
  std::vector<int> sizes = {}, formats = {};
};

Sent sent_of(const std::vector<Value>& values) {
  Sent sent;
  sent.numbers.reserve(values.size());
  const auto add = [&sent](Oid type, const char* bytes, std::size_t size) {
    sent.types.push_back(type);
    sent.bytes.push_back(bytes);
    sent.sizes.push_back(static_cast<int>(size));
    sent.formats.push_back(1);
  };
  for (const Value& value : values) {
    if (const auto* number = std::get_if<std::int64_t>(&value)) {
      sent.numbers.push_back(eight_of(*number));
      add(oid_of_number, sent.numbers.back().data(), 8);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
      add(oid_of_bytes, text->data(), text->size());
    } else if (const auto* blob = std::get_if<Blob>(&value)) {
      add(oid_of_bytes, blob->bytes.data(), blob->bytes.size());
    } else {
      add(0, nullptr, 0);
    }
  }
  return sent;
}

Cell cell_of(const PGresult* result, int row, int column) {
  Cell cell;
  if (libpq().is_null(result, row, column) != 0) return cell;
  cell.is_null = false;
  const std::string_view bytes(libpq().value(result, row, column),
                               static_cast<std::size_t>(libpq().length(result, row, column)));
  if (libpq().type(result, column) == oid_of_bytes)
    cell.bytes = bytes;
  else
    cell.number = number_of(bytes);
  return cell;
}

std::vector<Row> rows_of(const PGresult* result) {
  std::vector<Row> rows;
  for (int row = 0; row < libpq().rows(result); ++row) {
    Row& cells = rows.emplace_back();
    for (int column = 0; column < libpq().columns(result); ++column)
      cells.push_back(cell_of(result, row, column));
  }
  return rows;
}

// Appendix A of the PostgreSQL manual has the codes.
Trouble trouble_of(const PGresult* result) {
  const char* field = libpq().error_field(result, PG_DIAG_SQLSTATE);
  const std::string_view state = field == nullptr ? "" : field;
  if (state == "40001" || state == "40P01") return Trouble::again;
  if (state == "23505") return Trouble::taken;
  if (state == "55P03") return Trouble::busy;
  if (state.starts_with("XX")) return Trouble::damaged;
  return Trouble::other;
}

}  // namespace

const Dialect& Postgres::dialect() const {
  return words_of_postgres;
}

Trouble Postgres::noted(Trouble trouble, const char* words) {
  if (trouble == Trouble::none) return trouble;
  trouble_ = trouble;
  words_ = words;
  while (!words_.empty() && words_.back() == '\n') words_.pop_back();
  return trouble;
}

Trouble Postgres::connect() {
  if (!libpq().why_not.empty()) return noted(Trouble::other, libpq().why_not.c_str());
  const std::array<const char*, 4> keys = {"connect_timeout", "application_name", "dbname",
                                           nullptr};
  const std::array<const char*, 4> values = {"10", "kerfwright", address_.c_str(), nullptr};
  connection_.reset(libpq().connect(keys.data(), values.data(), 1));
  return set_up();
}

Trouble Postgres::set_up() {
  if (libpq().status(connection_.get()) != CONNECTION_OK)
    return noted(Trouble::lost, libpq().words(connection_.get()));
  // What the server says beside its answers would go to stderr.
  libpq().set_listener(
      connection_.get(), [](void*, const char*) {}, nullptr);
  const Trouble trouble = answered(Result(libpq().exec(connection_.get(), settings))).trouble;
  if (trouble != Trouble::none) return trouble;
  return take_hands();
}

Trouble Postgres::take_hands() {
  const char* lock = hands_ == Hands::one ? "" : "_shared";
  const std::string sql = fmt::format(
      "SELECT CASE WHEN pg_try_advisory_lock{}({}) THEN 1::bigint ELSE 0 END", lock, key_of_hands);
  // A program that was killed holds it until the server has noticed.
  for (int attempt = 1;; ++attempt) {
    const Answer held = ask_once(sql, {});
    if (held.trouble != Trouble::none) return held.trouble;
    if (held.rows[0][0].number == 1) return Trouble::none;
    if (attempt == 6) return noted(Trouble::busy, "another program holds it");
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
}

Trouble Postgres::mended() {
  if (libpq().status(connection_.get()) == CONNECTION_OK) return Trouble::none;
  if (is_in_transaction_) return Trouble::lost;
  libpq().reset(connection_.get());
  return set_up();
}

Answer Postgres::answered(Result result) {
  Answer answer;
  const ExecStatusType status = libpq().result_status(result.get());
  if (status == PGRES_TUPLES_OK || status == PGRES_COMMAND_OK) {
    answer.rows = rows_of(result.get());
    const std::string changed = libpq().changed(result.get());
    answer.changed = changed.empty() ? 0 : std::stoll(changed);
    return answer;
  }
  const bool is_lost = libpq().status(connection_.get()) != CONNECTION_OK;
  answer.trouble =
      noted(is_lost ? Trouble::lost : trouble_of(result.get()), libpq().words(connection_.get()));
  return answer;
}

Answer Postgres::ask_once(const std::string& sql, const std::vector<Value>& values) {
  const Sent sent = sent_of(values);
  return answered(Result(libpq().exec_params(
      connection_.get(), sql.c_str(), static_cast<int>(values.size()), sent.types.data(),
      sent.bytes.data(), sent.sizes.data(), sent.formats.data(), 1)));
}

Answer Postgres::ask(const std::string& sql, const std::vector<Value>& values) {
  const Trouble trouble = mended();
  if (trouble != Trouble::none) return {.trouble = trouble};
  Answer answer = ask_once(sql, values);
  // A question that changes nothing may be asked twice.
  const bool is_question = !is_in_transaction_ && sql.starts_with("SELECT");
  if (answer.trouble == Trouble::lost && is_question && mended() == Trouble::none)
    answer = ask_once(sql, values);
  return answer;
}

Trouble Postgres::run(const std::string& sql) {
  const Trouble trouble = mended();
  if (trouble != Trouble::none) return trouble;
  return answered(Result(libpq().exec(connection_.get(), sql.c_str()))).trouble;
}

Trouble Postgres::begin() {
  trouble_ = Trouble::none;
  Trouble trouble = run("BEGIN ISOLATION LEVEL SERIALIZABLE");
  if (trouble == Trouble::lost) trouble = run("BEGIN ISOLATION LEVEL SERIALIZABLE");
  is_in_transaction_ = trouble == Trouble::none;
  return trouble;
}

Trouble Postgres::commit() {
  const Trouble trouble = run("COMMIT");
  is_in_transaction_ = false;
  return trouble;
}

void Postgres::roll_back() {
  if (is_in_transaction_ && libpq().status(connection_.get()) == CONNECTION_OK)
    const Result result(libpq().exec(connection_.get(), "ROLLBACK"));
  is_in_transaction_ = false;
}

Trouble Postgres::begin_form() {
  const Trouble trouble = run("BEGIN");
  is_in_transaction_ = trouble == Trouble::none;
  if (trouble != Trouble::none) return trouble;
  return run(fmt::format("SELECT pg_advisory_xact_lock({})", key_of_form));
}

int Postgres::form() {
  const Answer there =
      ask("SELECT count(*) FROM pg_tables WHERE schemaname = current_schema() AND tablename = "
          "'kerfwright_form'",
          {});
  if (there.rows.empty() || there.rows[0][0].number == 0) return 0;
  const Answer answer = ask("SELECT max(number) FROM kerfwright_form", {});
  return answer.rows.empty() ? 0 : static_cast<int>(answer.rows[0][0].number);
}

Trouble Postgres::set_form(int form) {
  return run(
      fmt::format("CREATE TABLE IF NOT EXISTS kerfwright_form (number BIGINT PRIMARY KEY); "
                  "INSERT INTO kerfwright_form VALUES ({})",
                  form));
}

Trouble Postgres::copy_whole(const std::filesystem::path&) {
  return Trouble::not_known;
}

// Its pages are looked through by `pg_amcheck`, which is the administrator's.
std::vector<std::string> Postgres::damages() {
  return {};
}

namespace {

Diagnostic not_durable(const Place& place) {
  return {.code = "store.not-durable",
          .severity = Severity::warning,
          .message = fmt::format("the PostgreSQL server of `{}` does not wait for its disk "
                                 "(fsync or full_page_writes is off)",
                                 words_of(place)),
          .hint = "switch both on in its postgresql.conf: where the power fails, all may be lost"};
}

}  // namespace

Opened open_postgres(const Place& place, Hands hands) {
  auto driver = std::make_unique<Postgres>(place.address, hands);
  const Trouble trouble = driver->connect();
  if (trouble == Trouble::busy) return in_use(place);
  if (trouble != Trouble::none) return cannot_open(place, driver->words());
  const int form = driver->form();
  if (form > newest_form) return newer(place, form);
  if (bring_up_to_date(*driver) != Trouble::none) return cannot_open(place, driver->words());
  const Answer weak = driver->ask(
      "SELECT count(*) FROM pg_settings WHERE name IN ('fsync', 'full_page_writes') AND setting "
      "<> 'on'",
      {});
  Diagnostics warnings;
  if (!weak.rows.empty() && weak.rows[0][0].number > 0) warnings.push_back(not_durable(place));
  return {std::unique_ptr<Driver>(std::move(driver)), std::move(warnings)};
}

}  // namespace kw::storing
