#include "fit_order.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/diag/utf8.h"
#include "kerfwright/measure/text.h"
#include "kerfwright/workbench/recompute.h"

namespace kw {
namespace serving {

namespace {

constexpr std::size_t most_of_field = 200, most_of_buyer = 120;

Diagnostic bad_offer(const std::string& message, const std::string& hint) {
  return {.code = "server.bad-offer", .message = message, .hint = hint};
}

// A figure as a buyer types it; no formula.
std::optional<Value> value_read(const std::string& text, const Value& like, LengthUnit unit) {
  if (text.size() > most_of_field) return std::nullopt;
  if (like.dimension == a_length) {
    const auto length = parse_length(text, unit);
    return length ? std::optional(value_of(*length)) : std::nullopt;
  }
  if (like.dimension == an_angle) {
    const auto angle = parse_angle(text);
    return angle ? std::optional(value_of(*angle)) : std::nullopt;
  }
  double number = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc() || stop != end || !std::isfinite(number)) return std::nullopt;
  return value_of(number);
}

// The end of a range: what was published, or the piece's own.
Outcome<Value> end_of(const std::string& text, const std::optional<Value>& own,
                      const NamedValue& size, LengthUnit unit) {
  if (text.empty() && own) return *own;
  if (text.empty())
    return bad_offer(fmt::format("the size `{}` has no range", size.name),
                     "give it one: --size \"" + size.name + "=24..36\"");
  if (const auto value = value_read(text, size.value, unit)) return *value;
  return bad_offer(fmt::format("`{}` is no end of a range for the size `{}`", text, size.name),
                   "write it as " + name_of(size.value.dimension));
}

bool can_be_offered(const Dimension& dimension) {
  return dimension == a_length || dimension == an_angle || dimension == a_number;
}

Outcome<OfferedSize> offered(const AllowedSize& allowed, const Resolved& piece, LengthUnit unit) {
  const auto size = std::find_if(piece.sizes.begin(), piece.sizes.end(),
                                 [&](const NamedValue& s) { return s.name == allowed.size; });
  if (size == piece.sizes.end() || !can_be_offered(size->value.dimension))
    return bad_offer(fmt::format("the piece has no size `{}` that can be offered", allowed.size),
                     "name one of its sizes");
  const auto least = end_of(allowed.least, size->from, *size, unit);
  if (!least) return least.diagnostics();
  const auto most = end_of(allowed.most, size->to, *size, unit);
  if (!most) return most.diagnostics();
  const bool is_within = (!size->from || least->amount >= size->from->amount) &&
                         (!size->to || most->amount <= size->to->amount);
  if (least->amount > most->amount || !is_within)
    return bad_offer(fmt::format("the range of `{}`, {} to {}, is none within the piece's own",
                                 allowed.size, words_of(*least, unit), words_of(*most, unit)),
                     "widen the range in the piece file, or narrow what is offered");
  return OfferedSize{size->name, size->note, *least, *most, size->value};
}

char hex_digit(unsigned value) {
  return "0123456789ABCDEF"[value & 0xFU];
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool is_plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                          (c >= '0' && c <= '9') || c == '.' || c == '-' || c == '_';
    if (is_plain) {
      out += c;
      continue;
    }
    const auto byte = static_cast<unsigned char>(c);
    out += {'%', hex_digit(byte / 16U), hex_digit(byte)};
  }
  return out;
}

Diagnostic no_such_size(const OfferedSize& size, const std::string& typed) {
  return {.code = "server.bad-size",
          .message = fmt::format("`{}` is not {}", typed.substr(0, 40), name_of(size.is.dimension)),
          .hint = size.is.dimension == a_length   ? "write it like 29 11/16, 2' 6 or 810 mm"
                  : size.is.dimension == an_angle ? "write it like 35 deg"
                                                  : "write a plain number"};
}

Diagnostic out_of_range(const OfferedSize& size, const Value& typed, LengthUnit unit) {
  return {.code = "server.out-of-range",
          .message = fmt::format("{} is not between {} and {}", words_of(typed, unit),
                                 words_of(size.least, unit), words_of(size.most, unit)),
          .hint = "choose a size within the range: beyond it the piece was not designed"};
}

Diagnostic bad_order(const std::string& message) {
  return {.code = "server.bad-order", .message = message, .hint = "use the form of the page"};
}

void read_size(const Offer& offer, const OfferedSize& size, const std::string& typed,
               ReadOrder& read) {
  const std::string field = "size." + size.name;
  const auto value = value_read(typed, size.is, offer.unit);
  if (!value) {
    read.faults[field] = no_such_size(size, typed);
  } else if (value->amount < size.least.amount || value->amount > size.most.amount) {
    read.faults[field] = out_of_range(size, *value, offer.unit);
  } else {
    read.order.sizes.push_back({size.name, typed});
  }
}

void read_choices(const Form& form, ReadOrder& read) {
  const auto choice = [&](const char* field, const std::string& one, const std::string& other) {
    const auto found = form.find(field);
    if (found == form.end() || found->second == one) return false;
    if (found->second != other)
      read.faults[field] = bad_order(fmt::format("{} is {} or {}", field, one, other));
    return true;
  };
  if (choice("unit", "in", "mm")) read.order.unit = LengthUnit::mm;
  if (choice("paper", "letter", "a4")) read.order.paper = Paper::a4;
  const auto buyer = form.find("buyer");
  if (buyer == form.end()) return;
  read.order.buyer = buyer->second;
  if (buyer->second.size() > most_of_buyer || first_not_utf8(buyer->second) != std::string::npos)
    read.faults["buyer"] =
        bad_order(fmt::format("a name has at most {} bytes of UTF-8", most_of_buyer));
}

}  // namespace

std::string written(const Form& form) {
  std::string out;
  for (const auto& [key, value] : form) {
    if (!out.empty()) out += '&';
    out += escaped(key) + '=' + escaped(value);
  }
  return out;
}

std::string words_of(const Value& value, LengthUnit unit) {
  if (value.dimension == a_length) {
    const Length length = Length::ticks(std::llround(value.amount));
    return format_length(length, {.unit = unit});
  }
  if (value.dimension == an_angle) return fmt::format("{}°", value.amount);
  return fmt::format("{}", value.amount);
}

Outcome<Offer> read_offer(PublishedPiece piece) {
  ShapeCache cache;
  const Snapshot snapshot = recompute({piece.name, piece.text}, built_in_catalogue(), cache);
  Offer offer{.unit = snapshot.document.unit};
  for (const AllowedSize& allowed : piece.sizes) {
    auto size = offered(allowed, snapshot.piece, offer.unit);
    if (!size) return size.diagnostics();
    offer.sizes.push_back(*std::move(size));
  }
  offer.piece = std::move(piece);
  return offer;
}

ReadOrder read_order(const Offer& offer, const Form& form) {
  ReadOrder read;
  read.order.unit = offer.unit;
  for (const OfferedSize& size : offer.sizes) {
    const auto typed = form.find("size." + size.name);
    if (typed != form.end()) read_size(offer, size, typed->second, read);
  }
  for (const auto& [field, value] : form) {
    const bool is_size =
        std::any_of(offer.sizes.begin(), offer.sizes.end(),
                    [&f = field](const OfferedSize& s) { return f == "size." + s.name; });
    if (!is_size && field != "unit" && field != "paper" && field != "buyer")
      read.faults[field] = bad_order("that is no field of this page");
  }
  read_choices(form, read);
  return read;
}

}  // namespace serving

namespace {

bool is_page_name(const std::string& name) {
  return !name.empty() && name.size() <= 80 && name.front() != '-' &&
         std::all_of(name.begin(), name.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
         });
}

// What is wrong with the piece when one size is at the end of its range.
Diagnostics faults_at(const Text& text, const serving::Offer& offer) {
  for (const serving::OfferedSize& size : offer.sizes) {
    for (const Value& end : {size.least, size.most}) {
      ShapeCache cache;
      Override set{size.name, serving::words_of(end, offer.unit)};
      if (set.formula.starts_with('~')) set.formula.erase(0, 1);
      Snapshot snapshot = recompute(text, built_in_catalogue(), cache, {set});
      if (!has_errors(snapshot.diagnostics)) continue;
      const std::string words = fmt::format("with {} at {} the piece has faults: {}", size.name,
                                            set.formula, snapshot.diagnostics.front().message);
      return {serving::bad_offer(words, "narrow the range, or mend the piece")};
    }
  }
  return {};
}

}  // namespace

Outcome<PublishedPiece> offer_of(const OfferOptions& options) {
  using namespace serving;
  if (!is_page_name(options.name))
    return bad_offer(fmt::format("`{}` cannot be the name of a page", options.name),
                     "use small letters, figures and hyphens, at most 80");
  const Text text{options.name, options.text};
  ShapeCache cache;
  const Snapshot snapshot = recompute(text, built_in_catalogue(), cache);
  if (has_errors(snapshot.diagnostics)) return snapshot.diagnostics;
  auto offer = read_offer({.name = options.name,
                           .at = options.at,
                           .title = snapshot.document.title,
                           .text = options.text,
                           .terms = options.terms,
                           .sizes = options.sizes});
  if (!offer) return offer.diagnostics();
  const Diagnostics faults = faults_at(text, *offer);
  if (!faults.empty()) return faults;
  return offer->piece;
}

}  // namespace kw
