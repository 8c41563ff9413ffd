#include "kerfwright/store/shelf.h"

#include <algorithm>
#include <charconv>
#include <fmt/core.h>
#include <tuple>

#include "kerfwright/piece/document.h"

#include "starters.h"

namespace kw {
namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_pieces = 10'000;

fs::path bin_of(const fs::path& folder) {
  return folder / ".kerfwright" / "bin";
}

std::vector<fs::path> pieces_in(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
    const bool is_piece = at->path().extension() == ".toml" && at->is_regular_file(error) &&
                          !at->path().filename().string().starts_with('.');
    if (is_piece && files.size() < most_pieces) files.push_back(at->path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

ShelfPiece piece_of(const fs::path& file) {
  ShelfPiece piece{file.stem().string(), file.stem().string(), mark_of(file).changed / 1'000'000};
  const auto bytes = read_piece_file(file);
  if (!bytes) {
    piece.errors = 1;
    return piece;
  }
  const Reading<Document> reading = read_piece({file.string(), *bytes});
  if (!reading.value.title.empty()) piece.title = reading.value.title;
  piece.errors = static_cast<int>(
      std::count_if(reading.diagnostics.begin(), reading.diagnostics.end(),
                    [](const Diagnostic& d) { return d.severity == Severity::error; }));
  return piece;
}

// Of "stool.1772357400000": the name and when.
Binned binned_of(const fs::path& file) {
  Binned binned{file.stem().string(), file.stem().string()};
  const std::size_t at = binned.id.rfind('.');
  if (at == std::string::npos) return binned;
  binned.name = binned.id.substr(0, at);
  const char* begin = binned.id.data() + at + 1;
  std::from_chars(begin, binned.id.data() + binned.id.size(), binned.at);
  return binned;
}

Starter starter_of(const Text& text) {
  const Document document = read_piece(text).value;
  const std::string& note = document.note;
  const std::size_t stop = note.find(". ");
  return {fs::path(text.name).stem().string(), document.title,
          stop == std::string::npos ? note : note.substr(0, stop + 1)};
}

std::vector<Starter> starters() {
  static const std::vector<Starter> all = [] {
    std::vector<Starter> made;
    for (const Text& text : storing::built_in_starters()) made.push_back(starter_of(text));
    return made;
  }();
  return all;
}

Diagnostic no_such_piece(const std::string& name) {
  return {.code = "shelf.no-such-piece",
          .message = fmt::format("there is no piece `{}` on the shelf", name),
          .hint = "look at the shelf again"};
}

Diagnostic cannot_move(const fs::path& file, const std::error_code& error) {
  return {.code = "io.cannot-write",
          .message = fmt::format("`{}` cannot be moved: {}", file.string(), error.message()),
          .hint = "give yourself leave to write there"};
}

// Moves without replacing anything.
Diagnostics move_file(const fs::path& from, const fs::path& to) {
  std::error_code error;
  fs::create_hard_link(from, to, error);
  if (error == std::errc::file_exists) {
    return {{.code = "shelf.name-taken",
             .message = fmt::format("there is a `{}` already", to.filename().string()),
             .hint = "choose another name"}};
  }
  if (!error) fs::remove(from, error);
  if (error) return {cannot_move(from, error)};
  return {};
}

}  // namespace

ShelfList list_of(const fs::path& folder) {
  ShelfList list{.folder = folder.string()};
  for (const fs::path& file : pieces_in(folder)) list.pieces.push_back(piece_of(file));
  list.starters = starters();
  for (const fs::path& file : pieces_in(bin_of(folder))) list.binned.push_back(binned_of(file));
  std::sort(list.binned.begin(), list.binned.end(), [](const Binned& a, const Binned& b) {
    return std::tie(b.at, a.id) < std::tie(a.at, b.id);
  });
  return list;
}

fs::path file_of(const fs::path& folder, const std::string& piece) {
  return folder / (piece + ".toml");
}

Diagnostics rename_piece_file(const fs::path& folder, const std::string& from,
                              const std::string& to) {
  std::error_code error;
  if (!fs::is_regular_file(file_of(folder, from), error)) return {no_such_piece(from)};
  return move_file(file_of(folder, from), file_of(folder, to));
}

Outcome<Binned> bin_piece(const fs::path& folder, const std::string& piece, std::int64_t now) {
  std::error_code error;
  const fs::path file = file_of(folder, piece);
  if (!fs::is_regular_file(file, error)) return no_such_piece(piece);
  fs::create_directories(bin_of(folder), error);
  if (error) return cannot_move(file, error);
  for (std::int64_t at = now;; ++at) {
    const Binned binned{fmt::format("{}.{}", piece, at), piece, at};
    const Diagnostics faults = move_file(file, file_of(bin_of(folder), binned.id));
    if (faults.empty()) return binned;
    if (faults.front().code != "shelf.name-taken") return faults;
  }
}

Outcome<std::string> take_back(const fs::path& folder, const std::string& id) {
  std::error_code error;
  const fs::path file = file_of(bin_of(folder), id);
  if (id.find('/') != std::string::npos || !fs::is_regular_file(file, error))
    return no_such_piece(id);
  const std::string name = binned_of(file).name;
  for (int n = 1;; ++n) {
    const std::string wanted = n == 1 ? name : fmt::format("{}-{}", name, n);
    const Diagnostics faults = move_file(file, file_of(folder, wanted));
    if (faults.empty()) return wanted;
    if (faults.front().code != "shelf.name-taken") return faults;
  }
}

Outcome<std::string> starter_text(const std::string& name) {
  for (const Text& text : storing::built_in_starters())
    if (fs::path(text.name).stem() == name) return text.content;
  return Diagnostic{.code = "shelf.no-such-starter",
                    .message = fmt::format("there is no starter `{}`", name),
                    .hint = "look at the shelf again"};
}

std::string empty_piece(const std::string& title, LengthUnit unit) {
  std::string written;
  for (const char c : title) {
    const bool is_odd = static_cast<unsigned char>(c) < 0x20U || c == 0x7F;
    if (c == '"' || c == '\\') written += '\\';
    written += is_odd ? ' ' : c;
  }
  const bool is_inch = unit == LengthUnit::inch;
  return fmt::format("format = 1\npiece = \"{}\"\nunit = \"{}\"\nrule = \"{}\"\n", written,
                     is_inch ? "in" : "mm", is_inch ? "1/16" : "1");
}

}  // namespace kw
