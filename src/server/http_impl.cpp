// The bodies of the HTTP library, compiled once.
#include <boost/asio.hpp>
#include <boost/asio/impl/src.hpp>
#include <boost/beast/src.hpp>
#include <utility>
