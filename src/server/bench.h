// Pairing of phones with the bench listener: a code of six digits, good for one phone, for ten
// minutes and for five wrong guesses; then a long token in the address. Private to server.
#pragma once

#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "kerfwright/wire/replies.h"

namespace kw::serving {

// A QR code (ISO/IEC 18004) as SVG.
[[nodiscard]] std::string qr_svg(const std::string& text);

// 128 random bits of the system, as 32 hexadecimal digits.
[[nodiscard]] std::string new_token();

// A piece, or a batch of the shop; and the unit that a phone shows it in; none: the file's.
struct PairedTo {
  std::string piece = {};
  int batch = 0;  // 0: a piece
  std::optional<LengthUnit> unit = {};
};

class Bench {
 public:
  // Opens the second listener: its address, "http://192.168.1.20:41234"; or closes it.
  std::function<std::optional<std::string>()> open_port = {};
  std::function<void()> close_port = {};

  // Opens the listener when it is not, and makes a new code. False when there is no port.
  bool open(const PairedTo& to, std::int64_t now);
  void close();
  [[nodiscard]] BenchState state(std::int64_t now) const;

  // A token when the code is right; each wrong guess counts, and the fifth spends the code.
  [[nodiscard]] std::optional<std::string> pair(const std::string& code, std::int64_t now);
  // What a token is for.
  [[nodiscard]] std::optional<PairedTo> paired_to(const std::string& token) const;
  // "192.168.1.20:41234", which the bench listener answers to.
  [[nodiscard]] std::optional<std::string> host() const;

 private:
  [[nodiscard]] bool has_code(std::int64_t now) const;
  mutable std::mutex mutex_;
  std::optional<std::string> address_ = {};
  PairedTo to_ = {};
  std::string code_ = {};
  std::int64_t expires_ = 0;
  int guesses_left_ = 0;
  std::map<std::string, PairedTo> paired_ = {};  // by token
};

}  // namespace kw::serving
