// The forms that the tables have had, oldest first. A form is never changed: a further one follows,
// which takes what the one before left. {integer}, {text}, {bytes} are as the database says them.
#include <array>

#include "driver.h"

namespace kw::storing {

namespace {

constexpr std::array forms = {
    // 1: histories of pieces, ticks of the bench.
    R"(
CREATE TABLE piece (
  id {integer} PRIMARY KEY, name {text} NOT NULL UNIQUE, saved {integer} NOT NULL DEFAULT 0);
CREATE TABLE revision (
  piece {integer} NOT NULL REFERENCES piece(id), number {integer} NOT NULL, at {integer} NOT NULL,
  kind {integer} NOT NULL, words {text} NOT NULL, joined {text} NOT NULL, delta {bytes} NOT NULL,
  whole {bytes}, PRIMARY KEY (piece, number));
CREATE TABLE tick (
  piece {integer} NOT NULL REFERENCES piece(id), number {integer} PRIMARY KEY, id {text} NOT NULL,
  cut {text} NOT NULL, did {text} NOT NULL, words {text} NOT NULL, at {text} NOT NULL,
  UNIQUE (piece, id));
)",
    // 2: logs; jobs of work; pieces that are published.
    R"(
CREATE TABLE log (name {text} PRIMARY KEY, newest {integer} NOT NULL);
CREATE TABLE record (
  log {text} NOT NULL REFERENCES log(name), number {integer} NOT NULL, at {integer} NOT NULL,
  bytes {bytes} NOT NULL, PRIMARY KEY (log, number));
CREATE TABLE job (
  id {text} PRIMARY KEY, kind {text} NOT NULL, state {integer} NOT NULL, at {integer} NOT NULL,
  attempts {integer} NOT NULL, taker {text} NOT NULL, until {integer} NOT NULL,
  ended {integer} NOT NULL, given {bytes} NOT NULL, made {bytes} NOT NULL);
CREATE INDEX job_by_turn ON job (kind, state, at, id);
CREATE INDEX job_by_end ON job (kind, ended);
CREATE TABLE published (
  name {text} NOT NULL, version {integer} NOT NULL, at {integer} NOT NULL, title {text} NOT NULL,
  text {bytes} NOT NULL, terms {bytes} NOT NULL, offered {integer} NOT NULL,
  PRIMARY KEY (name, version));
CREATE TABLE published_size (
  name {text} NOT NULL, version {integer} NOT NULL, place {integer} NOT NULL,
  size {text} NOT NULL, least {text} NOT NULL, most {text} NOT NULL,
  PRIMARY KEY (name, version, place), FOREIGN KEY (name, version) REFERENCES published);
)",
    // 3: who asked for a job.
    R"(
ALTER TABLE job ADD COLUMN asker {text} NOT NULL DEFAULT '';
CREATE INDEX job_by_asker ON job (asker, at);
)",
};

std::string said_as(const Dialect& dialect, std::string_view form) {
  std::string sql;
  while (!form.empty()) {
    const std::size_t open = form.find('{');
    sql += form.substr(0, open);
    if (open == std::string_view::npos) break;
    const std::size_t close = form.find('}', open);
    const std::string_view word = form.substr(open + 1, close - open - 1);
    sql += word == "integer" ? dialect.integer : word == "text" ? dialect.text : dialect.bytes;
    form.remove_prefix(close + 1);
  }
  return sql;
}

}  // namespace

const int newest_form = static_cast<int>(forms.size());

Trouble make_form(Driver& driver, int form) {
  const auto at = static_cast<std::size_t>(form - 1);
  const Trouble trouble = driver.run(said_as(driver.dialect(), forms[at]));
  return trouble == Trouble::none ? driver.set_form(form) : trouble;
}

Trouble bring_up_to_date(Driver& driver) {
  if (driver.form() == newest_form) return Trouble::none;
  Trouble trouble = driver.begin_form();
  // Another program may have been quicker.
  for (int form = driver.form() + 1; trouble == Trouble::none && form <= newest_form; ++form)
    trouble = make_form(driver, form);
  if (trouble == Trouble::none) trouble = driver.commit();
  if (trouble != Trouble::none) driver.roll_back();
  return trouble;
}

}  // namespace kw::storing
