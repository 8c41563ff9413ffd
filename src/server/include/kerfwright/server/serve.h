// The workbench over HTTP on this machine: the page, its calls (web/contract/openapi.yaml), events,
// and, when asked for, pages for a phone in the shop's network.
//
// Bounded: headers of 16 KiB, bodies of 2 MiB, ten seconds for a request, 128 connections. Answers
// only for its own name (Host), takes changes only from its own page (Origin).
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/store/cabinet.h"

namespace kw {

struct ServerOptions {
  std::filesystem::path folder = {};  // the shelf
  std::optional<Place> store = {};    // none: .kerfwright/history.db in the folder
  std::uint16_t port = 0;             // 0: one that is free
  std::string version = {};
  std::optional<std::string> opened = {};  // a piece to begin with: the page's address names it
  // Told the page's address when it can be opened, and what is worth saying then.
  std::function<void(const std::string& address, const Diagnostics& warnings)> on_ready = {};
};

// Serves until SIGINT or SIGTERM; true then. Errors: those of opening the store, server.no-port.
[[nodiscard]] Outcome<bool> serve(const ServerOptions& options);

}  // namespace kw
