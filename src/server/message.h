// Requests and replies as plain values, so that what answers knows no HTTP library. Private to
// server.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "kerfwright/wire/replies.h"

namespace kw::serving {

struct Request {
  std::string method = {};
  std::vector<std::string> path = {};  // parts between the slashes, percent-decoded
  std::map<std::string, std::string> query = {};
  std::string body = {};
  bool is_json = false, is_form = false;
  bool takes_br = false, takes_gzip = false;
  std::string has_etag = {};   // If-None-Match
  bool is_bench = false;       // came by the bench listener
  std::string peer = {};       // address of the other side
  std::string forwarded = {};  // the last that X-Forwarded-For names
};

struct Reply {
  int status = 200;
  std::string type = "application/json";
  std::string body = {};
  std::vector<std::pair<std::string, std::string>> headers = {};
  std::optional<std::string> stream = {};  // an event stream: of this piece, "" of all
};

[[nodiscard]] Reply json(std::string body, int status = 200);
[[nodiscard]] Reply problem(const Trouble& what);
[[nodiscard]] Reply problem(int status, const Diagnostics& why);
[[nodiscard]] Reply no_such_page();
[[nodiscard]] Reply wrong_method(const std::string& allowed);

// The parts of "/api/pieces/a%2Fb?x=1"; nothing when it is no path of ours: bad escapes, control
// characters, `.` or `..` as a part, over 2,000 bytes.
[[nodiscard]] bool read_target(std::string_view target, Request& into);

// `a=b&c=d` as forms send it: percent-escapes, + for a blank. Nothing when it is none, has a key
// twice, or holds control characters.
using Form = std::map<std::string, std::string>;
[[nodiscard]] std::optional<Form> read_form(std::string_view text);

// What stands behind `key` in the address; "" when nothing does.
[[nodiscard]] std::string asked_for(const Request& request, const std::string& key);
// ?unit=in or mm; nothing: the file's own. Error: wire.bad-request.
[[nodiscard]] Outcome<std::optional<LengthUnit>> unit_asked_for(const Request& request);
[[nodiscard]] Diagnostic badly_asked();

// A page asset, or nothing.
struct Asset {
  std::string_view path, type, etag, plain, gzip, br;
  bool is_immutable = false;
};
[[nodiscard]] const Asset* find_asset(std::string_view path);
[[nodiscard]] Reply asset_reply(const Asset& asset, const Request& request);

}  // namespace kw::serving
