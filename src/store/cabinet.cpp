#include <fmt/core.h>

#include "held.h"

namespace kw {
using namespace storing;

namespace {

// Without what stands between `:` and `@` before the host, and without a password among the
// options.
std::string without_password(std::string address) {
  const std::size_t begin = address.find("//");
  const std::size_t end = address.find_first_of("/?", begin + 2);
  const std::size_t at = address.rfind('@', end);
  const std::size_t colon = address.find(':', begin + 2);
  if (at != std::string::npos && at > begin && colon < at) address.erase(colon, at - colon);
  const std::size_t option = address.find("password=");
  if (option != std::string::npos) {
    const std::size_t next = address.find('&', option);
    address.erase(option, next == std::string::npos ? next : next - option + 1);
  }
  return address;
}

}  // namespace

Place place_of(std::string_view words) {
  if (words.starts_with("postgresql://") || words.starts_with("postgres://"))
    return {.address = std::string(words)};
  return {.file = std::string(words)};
}

std::string words_of(const Place& place) {
  return place.address.empty() ? place.file.string() : without_password(place.address);
}

Outcome<Cabinet> Cabinet::open(const Place& place, Hands hands) {
  Opened opened =
      place.address.empty() ? open_sqlite(place.file, hands) : open_postgres(place, hands);
  if (!opened) return opened.diagnostics();
  auto held = std::make_shared<Held>();
  held->place = place;
  held->driver = std::move(*opened);
  return {Cabinet(std::move(held)), opened.diagnostics()};
}

namespace storing {

Diagnostic cannot_open(const Place& place, const std::string& why) {
  const bool is_file = place.address.empty();
  return {.code = "store.cannot-open",
          .message = fmt::format("the history in `{}` cannot be opened: {}", words_of(place), why),
          .hint = is_file ? "check that the folder can be written to and that the disk has room"
                          : "check that PostgreSQL runs there, and the names in the address"};
}

Diagnostic in_use(const Place& place) {
  return {.code = "store.in-use",
          .message = fmt::format("another program holds the history in `{}`", words_of(place)),
          .hint = "the workbench may be open already for this folder: use that one, or close it"};
}

Diagnostic newer(const Place& place, int form) {
  return {
      .code = "store.newer",
      .message = fmt::format("the history in `{}` was made by a newer program (form {}, this one "
                             "knows {})",
                             words_of(place), form, newest_form),
      .hint = "use the newer program, or move the file away to begin a new history"};
}

Diagnostic cannot_keep(const Cabinet::Held& held) {
  return {.code = "store.cannot-keep",
          .message = fmt::format("the change cannot be kept in `{}`: {}", words_of(held.place),
                                 held.driver->words()),
          .hint = "make room on the disk, or give yourself leave to write there, and do it again"};
}

Diagnostic cannot_read(const Cabinet::Held& held) {
  return {.code = "store.cannot-read",
          .message = fmt::format("what is kept in `{}` cannot be read: {}", words_of(held.place),
                                 held.driver->words()),
          .hint = "check the disk, or that PostgreSQL runs, and do it again"};
}

}  // namespace storing
}  // namespace kw
