// HTTP/1.1 (RFC 9112) by Boost.Beast coroutines: the one file that knows the library. It reads
// requests within limits, asks the desk on threads of its own, and writes the replies.
//
// On this version of Boost: <utility> before asio, no as_tuple, no capturing lambda beside a
// co_await; what a detached coroutine throws is caught within it.
// clang-format off
#include <utility>
#include <boost/asio.hpp>
#include <boost/asio/awaitable.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
// clang-format on
#include <algorithm>
#include <chrono>
#include <fmt/core.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <thread>

#include "kerfwright/server/serve.h"

#include "desk.h"
#include "fit_desk.h"

namespace kw {
namespace serving {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using tcp = asio::ip::tcp;
using ErrorCode = boost::system::error_code;
using namespace std::chrono_literals;

constexpr std::uint32_t most_header_bytes = 16 * 1024;
constexpr std::uint64_t most_body_bytes = 2 * 1024 * 1024;
constexpr std::uint64_t most_form_bytes = 16 * 1024;  // of the public pages
constexpr int most_connections = 128;
constexpr auto request_time = 10s;  // for a whole request to come
constexpr auto reply_time = 60s;    // for a whole reply to go
constexpr auto idle_time = 30s;     // between requests
constexpr auto ping_every = 15s;    // on event streams

using HttpRequest = http::request<http::string_body>;
using HttpResponse = http::response<http::string_body>;

// Who is answered: the maker at this machine, phones in the shop, anybody.
enum class Audience : std::uint8_t { maker, phone, buyer };

// One listener and what it answers to.
struct Port {
  explicit Port(asio::io_context& io) : acceptor(io) {}
  tcp::acceptor acceptor;
  std::vector<std::string> hosts = {};    // "127.0.0.1:7345"
  std::vector<std::string> origins = {};  // "http://127.0.0.1:7345"
  Audience audience = Audience::maker;
};

struct Server {
  Server(std::function<Reply(const Request&)> handles, std::size_t workers)
      : handle(std::move(handles)), pool(workers) {}
  std::function<Reply(const Request&)> handle;
  Desk* desk = nullptr;  // of the workbench; `fit` has none
  asio::io_context io{2};
  asio::thread_pool pool;
  std::atomic<int> connections = 0;
  std::shared_ptr<Port> bench = {};
};

bool is_in(const std::vector<std::string>& list, std::string_view value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

std::string_view view_of(beast::string_view text) {
  return {text.data(), text.size()};
}

std::string_view policy_of(Audience audience) {
  switch (audience) {
    case Audience::phone:
      return "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src "
             "data:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors "
             "'none'";
    case Audience::buyer:
      return "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; "
             "frame-ancestors 'none'";
    case Audience::maker:
      break;
  }
  return "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
         "frame-src 'self' blob:; object-src 'self'; base-uri 'none'; form-action 'self'; "
         "frame-ancestors 'self'";
}

void add_security(HttpResponse& response, Audience audience) {
  const std::string_view policy = policy_of(audience);
  response.set("X-Content-Type-Options", "nosniff");
  response.set("Referrer-Policy", "no-referrer");
  response.set("Cross-Origin-Resource-Policy", "same-origin");
  response.set("X-Frame-Options", "SAMEORIGIN");
  response.set("Content-Security-Policy", beast::string_view(policy.data(), policy.size()));
}

HttpResponse response_of(Reply reply, unsigned version, Audience audience) {
  HttpResponse response;
  response.version(version);
  response.result(static_cast<unsigned>(reply.status));
  response.set(http::field::content_type, reply.type);
  add_security(response, audience);
  bool has_cache_rule = false;
  for (const auto& [name, value] : reply.headers) {
    response.set(name, value);
    has_cache_rule = has_cache_rule || name == "Cache-Control";
  }
  if (!has_cache_rule) response.set(http::field::cache_control, "no-store");
  if (reply.status == 503) response.set(http::field::retry_after, "2");
  response.body() = std::move(reply.body);
  response.prepare_payload();
  return response;
}

Reply refusal(int status, std::string_view code, std::string message, std::string hint) {
  return problem(status, {{.code = code, .message = std::move(message), .hint = std::move(hint)}});
}

// Anybody may ask, by whatever name the proxy gives us: there is nothing here that another page
// could do in a buyer's name.
std::optional<Reply> refused_by_fit(const HttpRequest& head) {
  const bool is_known = head.method() == http::verb::get || head.method() == http::verb::head ||
                        head.method() == http::verb::post;
  if (is_known) return std::nullopt;
  Reply reply = refusal(405, "server.wrong-method", "only GET, HEAD and POST are answered",
                        "use one of these");
  reply.headers.emplace_back("Allow", "GET, HEAD, POST");
  return reply;
}

// Why a request is not ours to answer, from its head alone.
std::optional<Reply> refused(const HttpRequest& head, const Port& port) {
  if (port.audience == Audience::buyer) return refused_by_fit(head);
  if (head.count(http::field::host) != 1 || !is_in(port.hosts, view_of(head[http::field::host]))) {
    return refusal(421, "server.wrong-host", "this server does not go by that name",
                   "use the address that the program printed");
  }
  const bool reads = head.method() == http::verb::get || head.method() == http::verb::head;
  if (!reads && head.method() != http::verb::post && head.method() != http::verb::delete_) {
    Reply reply = refusal(405, "server.wrong-method",
                          "only GET, HEAD, POST and DELETE are answered", "use one of these");
    reply.headers.emplace_back("Allow", "GET, HEAD, POST, DELETE");
    return reply;
  }
  const bool has_origin = head.count(http::field::origin) > 0;
  const bool is_own = has_origin && head.count(http::field::origin) == 1 &&
                      is_in(port.origins, view_of(head[http::field::origin]));
  if (!reads && !is_own) {
    return refusal(403, "server.wrong-origin", "changes are taken from this server's own page only",
                   "send the page's own address as Origin");
  }
  if (reads && has_origin && !is_own) {
    return refusal(403, "server.wrong-origin", "another page asked for this",
                   "open the page itself");
  }
  return std::nullopt;
}

bool has_token(std::string_view list, std::string_view token) {
  std::size_t at = 0;
  while (at < list.size()) {
    const std::size_t comma = std::min(list.find(',', at), list.size());
    std::string_view one = list.substr(at, comma - at);
    at = comma + 1;
    while (!one.empty() && one.front() == ' ') one.remove_prefix(1);
    const std::string_view name = one.substr(0, one.find_first_of("; "));
    if (name == token && one.find("q=0") == std::string_view::npos) return true;
  }
  return false;
}

// Behind the last comma: what the proxy next to us says, not what it was told.
std::string last_of(std::string_view list) {
  const std::size_t comma = list.rfind(',');
  if (comma != std::string_view::npos) list.remove_prefix(comma + 1);
  while (list.starts_with(' ')) list.remove_prefix(1);
  return std::string(list);
}

std::optional<Request> request_of(HttpRequest&& message, const Port& port, std::string peer) {
  Request request;
  request.method = std::string(view_of(message.method_string()));
  if (!read_target(view_of(message.target()), request)) return std::nullopt;
  request.is_json = view_of(message[http::field::content_type]).substr(0, 16) == "application/json";
  request.takes_br = has_token(view_of(message[http::field::accept_encoding]), "br");
  request.takes_gzip = has_token(view_of(message[http::field::accept_encoding]), "gzip");
  request.has_etag = std::string(view_of(message[http::field::if_none_match]));
  request.is_form =
      view_of(message[http::field::content_type]).starts_with("application/x-www-form-urlencoded");
  request.is_bench = port.audience == Audience::phone;
  request.forwarded = last_of(view_of(message["X-Forwarded-For"]));
  request.peer = std::move(peer);
  request.body = std::move(message.body());
  return request;
}

asio::awaitable<Reply> answered(Server* server, std::shared_ptr<Request> request) {
  try {
    co_return server->handle(*request);
  } catch (const std::exception& error) {
    co_return refusal(500, "server.fault", fmt::format("a fault of the program: {}", error.what()),
                      "do it another way, and report what you did");
  }
}

asio::awaitable<void> write(beast::tcp_stream& stream, HttpResponse& response, ErrorCode& error) {
  stream.expires_after(reply_time);
  co_await http::async_write(stream, response, asio::redirect_error(asio::use_awaitable, error));
}

// Sends events until the other side goes or the server stops.
asio::awaitable<void> send_events(beast::tcp_stream& stream, std::shared_ptr<Listener> listener) {
  const auto executor = co_await asio::this_coro::executor;
  auto timer = std::make_shared<asio::steady_timer>(executor);
  listener->on_wake([timer, executor] { asio::post(executor, [timer] { timer->cancel(); }); });
  ErrorCode error;
  std::string next = ": here\n\n";
  while (!error && !listener->is_closed()) {
    stream.expires_after(request_time);
    co_await asio::async_write(stream, asio::buffer(next),
                               asio::redirect_error(asio::use_awaitable, error));
    auto waiting = listener->take();
    if (error || waiting) {
      next = waiting.value_or("");
      continue;
    }
    timer->expires_after(ping_every);
    ErrorCode woken;
    co_await timer->async_wait(asio::redirect_error(asio::use_awaitable, woken));
    waiting = listener->take();
    next = waiting.value_or(": still here\n\n");
  }
  listener->close();
  listener->on_wake({});
}

asio::awaitable<void> stream_events(Server* server, beast::tcp_stream& stream, std::string piece) {
  http::response<http::empty_body> head{http::status::ok, 11};
  head.set(http::field::content_type, "text/event-stream");
  head.set(http::field::cache_control, "no-store");
  head.set("X-Content-Type-Options", "nosniff");
  head.set(http::field::connection, "close");
  http::response_serializer<http::empty_body> serializer{head};
  ErrorCode error;
  stream.expires_after(request_time);
  co_await http::async_write_header(stream, serializer,
                                    asio::redirect_error(asio::use_awaitable, error));
  auto listener = server->desk->events().listen(piece);
  if (!error) co_await send_events(stream, listener);
}

struct Exchange {
  Reply reply = {};
  bool closes = false;
  bool is_over = false;  // nothing to answer
  unsigned version = 11;
  bool is_head = false;
};

Reply broken(const ErrorCode& error) {
  if (error == http::error::body_limit)
    return refusal(413, "server.too-large", "the request is larger than 2 MiB (an order: 16 KiB)",
                   "send less at once");
  if (error == http::error::header_limit)
    return refusal(431, "server.headers-too-large", "the request's headers are larger than 16 KiB",
                   "send fewer headers");
  return refusal(400, "server.not-http", "that is no HTTP request that can be read",
                 "use a browser");
}

bool is_gone(const ErrorCode& error) {
  return error == http::error::end_of_stream || error == beast::error::timeout ||
         error == asio::error::eof || error == asio::error::connection_reset ||
         error == asio::error::operation_aborted || error == http::error::partial_message;
}

// Reads one request and has it answered.
asio::awaitable<Exchange> exchange(Server* server, std::shared_ptr<Port> port,
                                   beast::tcp_stream& stream, beast::flat_buffer& buffer) {
  Exchange result;
  http::request_parser<http::string_body> parser;
  parser.header_limit(most_header_bytes);
  parser.body_limit(port->audience == Audience::buyer ? most_form_bytes : most_body_bytes);
  ErrorCode error;
  co_await http::async_read_header(stream, buffer, parser,
                                   asio::redirect_error(asio::use_awaitable, error));
  if (error) {
    result.is_over = is_gone(error);
    result.closes = true;
    if (!result.is_over) result.reply = broken(error);
    co_return result;
  }
  result.version = parser.get().version();
  result.is_head = parser.get().method() == http::verb::head;
  if (auto refusal_reply = refused(parser.get(), *port)) {
    result.reply = *std::move(refusal_reply);
    result.closes = true;
    co_return result;
  }
  co_await http::async_read(stream, buffer, parser,
                            asio::redirect_error(asio::use_awaitable, error));
  if (error) {
    result.is_over = is_gone(error);
    result.closes = true;
    if (!result.is_over) result.reply = broken(error);
    co_return result;
  }
  result.closes = !parser.get().keep_alive();
  ErrorCode ignored;
  const auto peer = stream.socket().remote_endpoint(ignored);
  auto request = request_of(parser.release(), *port, peer.address().to_string());
  if (!request) {
    result.reply =
        refusal(400, "server.bad-address", "that is no address of ours", "begin at the shelf: /");
    co_return result;
  }
  stream.expires_after(reply_time);
  auto shared = std::make_shared<Request>(*std::move(request));
  result.reply = co_await asio::co_spawn(server->pool.get_executor(), answered(server, shared),
                                         asio::use_awaitable);
  co_return result;
}

// Reads on for a moment what the other side still sends, so that it gets the reply and no reset.
asio::awaitable<void> close_gently(beast::tcp_stream& stream) {
  ErrorCode error;
  stream.socket().shutdown(tcp::socket::shutdown_send, error);
  std::array<char, 4096> rest = {};
  stream.expires_after(1s);
  for (int i = 0; i < 64 && !error; ++i)
    co_await stream.async_read_some(asio::buffer(rest),
                                    asio::redirect_error(asio::use_awaitable, error));
}

asio::awaitable<void> converse(Server* server, std::shared_ptr<Port> port,
                               beast::tcp_stream& stream) {
  beast::flat_buffer buffer(most_header_bytes + 64 * 1024);
  bool is_first = true;
  while (true) {
    // The time is for the whole request; between requests it is longer.
    if (is_first)
      stream.expires_after(request_time);
    else
      stream.expires_after(idle_time);
    is_first = false;
    Exchange result = co_await exchange(server, port, stream, buffer);
    if (result.is_over) co_return;
    if (result.reply.stream) {
      co_await stream_events(server, stream, *result.reply.stream);
      co_return;
    }
    HttpResponse response = response_of(std::move(result.reply), result.version, port->audience);
    response.keep_alive(!result.closes);
    if (result.is_head) response.body().clear();
    ErrorCode error;
    co_await write(stream, response, error);
    if (error || result.closes) {
      co_await close_gently(stream);
      co_return;
    }
  }
}

asio::awaitable<void> turn_away(beast::tcp_stream& stream, Audience audience) {
  HttpResponse response = response_of(
      refusal(503, "server.busy", "too many connections at once", "close some tabs and try again"),
      11, audience);
  response.keep_alive(false);
  stream.expires_after(1s);
  ErrorCode error;
  co_await http::async_write(stream, response, asio::redirect_error(asio::use_awaitable, error));
}

asio::awaitable<void> serve_connection(Server* server, std::shared_ptr<Port> port,
                                       tcp::socket socket) {
  const int there = ++server->connections;
  try {
    beast::tcp_stream stream(std::move(socket));
    if (there > most_connections)
      co_await turn_away(stream, port->audience);
    else
      co_await converse(server, port, stream);
  } catch (const std::exception&) {
    // The connection is dropped; the server goes on.
  }
  --server->connections;
}

asio::awaitable<void> accept_all(Server* server, std::shared_ptr<Port> port) {
  const auto executor = co_await asio::this_coro::executor;
  asio::steady_timer pause(executor);
  while (port->acceptor.is_open()) {
    ErrorCode error;
    tcp::socket socket = co_await port->acceptor.async_accept(
        asio::make_strand(server->io), asio::redirect_error(asio::use_awaitable, error));
    if (!error) {
      const auto own = socket.get_executor();
      asio::co_spawn(own, serve_connection(server, port, std::move(socket)), asio::detached);
      continue;
    }
    if (error == asio::error::operation_aborted || error == asio::error::bad_descriptor) co_return;
    pause.expires_after(50ms);  // out of files: do not spin
    ErrorCode ignored;
    co_await pause.async_wait(asio::redirect_error(asio::use_awaitable, ignored));
  }
}

// Opens a port on an address; its number, or what went wrong.
Outcome<std::uint16_t> listen(Port& port, const asio::ip::address& address, std::uint16_t number) {
  ErrorCode error;
  const tcp::endpoint endpoint(address, number);
  port.acceptor.open(endpoint.protocol(), error);
  if (!error) port.acceptor.set_option(tcp::acceptor::reuse_address(true), error);
  if (!error) port.acceptor.bind(endpoint, error);
  if (!error) port.acceptor.listen(128, error);
  if (!error) return port.acceptor.local_endpoint(error).port();
  return Diagnostic{.code = "server.no-port",
                    .message = fmt::format("port {} cannot be had: {}", number, error.message()),
                    .hint = "another program may have it: choose one with --port"};
}

// This machine's address in a network that others reach it by: the first that is up.
std::optional<std::string> address_in_network() {
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) != 0) return std::nullopt;
  std::optional<std::string> found;
  for (const ifaddrs* one = all; one != nullptr && !found; one = one->ifa_next) {
    if (one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET) continue;
    if ((one->ifa_flags & IFF_LOOPBACK) != 0U || (one->ifa_flags & IFF_UP) == 0U) continue;
    const auto* address = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
    found = asio::ip::address_v4(ntohl(address->sin_addr.s_addr)).to_string();
  }
  ::freeifaddrs(all);
  return found;
}

std::optional<std::string> open_bench(Server& server) {
  const auto address = address_in_network();
  if (!address) return std::nullopt;
  auto port = std::make_shared<Port>(server.io);
  port->audience = Audience::phone;
  const auto number = listen(*port, asio::ip::make_address(*address), 0);
  if (!number) return std::nullopt;
  const std::string host = fmt::format("{}:{}", *address, *number);
  port->hosts = {host};
  port->origins = {"http://" + host};
  server.bench = port;
  asio::co_spawn(server.io, accept_all(&server, port), asio::detached);
  return "http://" + host;
}

void close_bench(Server& server) {
  const auto port = std::exchange(server.bench, nullptr);
  if (!port) return;
  asio::post(server.io, [port] {
    ErrorCode ignored;
    port->acceptor.close(ignored);
  });
}

asio::awaitable<void> watch_files(Server* server) {
  asio::steady_timer timer(co_await asio::this_coro::executor);
  while (true) {
    timer.expires_after(1s);
    ErrorCode error;
    co_await timer.async_wait(asio::redirect_error(asio::use_awaitable, error));
    if (error) co_return;
    asio::post(server->pool, [server] { server->desk->look_outside(); });
  }
}

void run(Server& server) {
  asio::signal_set signals(server.io, SIGINT, SIGTERM);
  signals.async_wait([&server](const ErrorCode&, int) { server.io.stop(); });
  std::thread second([&server] { server.io.run(); });
  server.io.run();
  second.join();
  if (server.desk != nullptr) {
    server.desk->events().close_all();
    server.desk->stop();
  }
  server.pool.join();
}

}  // namespace
}  // namespace serving

Outcome<bool> serve(const ServerOptions& options) {
  using namespace serving;
  auto store = Store::open(
      options.store.value_or(Place{.file = options.folder / ".kerfwright" / "history.db"}));
  if (!store) return store.diagnostics();
  const Diagnostics warnings = store.diagnostics();
  Desk desk(options.folder, *std::move(store), options.version);
  Server server([&desk](const Request& request) { return desk.handle(request); }, 3);
  server.desk = &desk;
  desk.bench().open_port = [&server] { return open_bench(server); };
  desk.bench().close_port = [&server] { close_bench(server); };
  auto port = std::make_shared<Port>(server.io);
  const auto number = listen(*port, boost::asio::ip::address_v4::loopback(), options.port);
  if (!number) return number.diagnostics();
  for (const char* name : {"127.0.0.1", "localhost"}) {
    port->hosts.push_back(fmt::format("{}:{}", name, *number));
    port->origins.push_back("http://" + port->hosts.back());
  }
  boost::asio::co_spawn(server.io, accept_all(&server, port), boost::asio::detached);
  boost::asio::co_spawn(server.io, watch_files(&server), boost::asio::detached);
  if (options.on_ready) {
    options.on_ready(fmt::format("http://127.0.0.1:{}/{}", *number, options.opened.value_or("")),
                     warnings);
  }
  serving::run(server);
  return true;
}

Outcome<bool> serve_fit(const FitOptions& options) {
  using namespace serving;
  const auto cabinet = Cabinet::open(options.store, Hands::many);
  if (!cabinet) return cabinet.diagnostics();
  boost::system::error_code error;
  const auto address = boost::asio::ip::make_address(options.address, error);
  if (error)
    return Diagnostic{.code = "server.no-port",
                      .message = fmt::format("`{}` is no address to listen at", options.address),
                      .hint = "write one of this machine's, or 0.0.0.0 for all of them"};
  FitDesk desk(*cabinet, options);
  Server server([&desk](const Request& request) { return desk.handle(request); }, 2);
  auto port = std::make_shared<Port>(server.io);
  port->audience = Audience::buyer;
  const auto number = listen(*port, address, options.port);
  if (!number) return number.diagnostics();
  boost::asio::co_spawn(server.io, accept_all(&server, port), boost::asio::detached);
  if (options.on_ready) {
    options.on_ready(fmt::format("http://{}:{}/fit", options.address, *number),
                     cabinet.diagnostics());
  }
  serving::run(server);
  return true;
}

}  // namespace kw
