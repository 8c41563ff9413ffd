// The bodies of the HTTP library, compiled once.

// This version of asio needs <utility> before it.
// clang-format off
#include <utility>
#include <boost/asio.hpp>
#include <boost/asio/impl/src.hpp>
#include <boost/beast/src.hpp>
// clang-format on
