// libpq, loaded when a database of PostgreSQL is first opened: it brings libraries for TLS and
// Kerberos with it, which took each command 15 ms to load. Private to store.
#pragma once

#include <libpq-fe.h>
#include <string>

namespace kw::storing {

struct Libpq {
  std::string why_not = {};  // empty when it is there
  decltype(&PQconnectdbParams) connect = nullptr;
  decltype(&PQreset) reset = nullptr;
  decltype(&PQfinish) finish = nullptr;
  decltype(&PQsetNoticeProcessor) set_listener = nullptr;
  decltype(&PQstatus) status = nullptr;
  decltype(&PQerrorMessage) words = nullptr;
  decltype(&PQexec) exec = nullptr;
  decltype(&PQexecParams) exec_params = nullptr;
  decltype(&PQclear) clear = nullptr;
  decltype(&PQresultStatus) result_status = nullptr;
  decltype(&PQresultErrorField) error_field = nullptr;
  decltype(&PQcmdTuples) changed = nullptr;
  decltype(&PQntuples) rows = nullptr;
  decltype(&PQnfields) columns = nullptr;
  decltype(&PQftype) type = nullptr;
  decltype(&PQgetisnull) is_null = nullptr;
  decltype(&PQgetlength) length = nullptr;
  decltype(&PQgetvalue) value = nullptr;
};

[[nodiscard]] const Libpq& libpq();

}  // namespace kw::storing
