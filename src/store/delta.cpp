#include "delta.h"

namespace kw {

namespace {

void put(std::string& out, std::uint32_t value) {
  for (int i = 0; i < 4; ++i) out += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

void put(std::string& out, const std::string& bytes) {
  put(out, static_cast<std::uint32_t>(bytes.size()));
  out += bytes;
}

struct Unpacker {
  std::string_view bytes = {};
  bool is_good = true;

  std::uint32_t number() {
    if (bytes.size() < 4) {
      is_good = false;
      return 0;
    }
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i])) << (8 * i);
    }
    bytes.remove_prefix(4);
    return value;
  }
  std::string text() {
    const std::uint32_t size = number();
    if (size > bytes.size()) {
      is_good = false;
      return {};
    }
    std::string out(bytes.substr(0, size));
    bytes.remove_prefix(size);
    return out;
  }
};

}  // namespace

Delta inverse_of(const Delta& delta) {
  Delta inverse;
  for (auto r = delta.rbegin(); r != delta.rend(); ++r)
    inverse.push_back({r->begin, r->now, r->was});
  return inverse;
}

std::optional<std::string> apply(const Delta& delta, std::string text) {
  for (const Replaced& r : delta) {
    if (r.begin > text.size() || text.compare(r.begin, r.was.size(), r.was) != 0)
      return std::nullopt;
    text.replace(r.begin, r.was.size(), r.now);
  }
  return text;
}

namespace storing {

std::string packed(const Delta& delta) {
  std::string out;
  for (const Replaced& r : delta) {
    put(out, r.begin);
    put(out, r.was);
    put(out, r.now);
  }
  return out;
}

std::optional<Delta> unpacked(std::string_view bytes) {
  Unpacker unpacker{bytes};
  Delta delta;
  while (!unpacker.bytes.empty() && unpacker.is_good) {
    Replaced r;
    r.begin = unpacker.number();
    r.was = unpacker.text();
    r.now = unpacker.text();
    delta.push_back(std::move(r));
  }
  if (!unpacker.is_good) return std::nullopt;
  return delta;
}

}  // namespace storing
}  // namespace kw
