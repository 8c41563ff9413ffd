#include "libpq.h"

#include <dlfcn.h>

namespace kw::storing {

namespace {

struct Loading {
  void* library = nullptr;
  Libpq* into = nullptr;

  template <class Function>
  void find(const char* name, Function& function) const {
    function = reinterpret_cast<Function>(dlsym(library, name));
    if (function == nullptr) into->why_not = std::string("libpq has no ") + name;
  }
};

Libpq loaded() {
  Libpq pq;
  void* library = dlopen("libpq.so.5", RTLD_NOW | RTLD_LOCAL);
  if (library == nullptr) {
    const char* words = dlerror();
    pq.why_not = words == nullptr ? "libpq is not there" : words;
    return pq;
  }
  const Loading loading{library, &pq};
  loading.find("PQconnectdbParams", pq.connect);
  loading.find("PQreset", pq.reset);
  loading.find("PQfinish", pq.finish);
  loading.find("PQsetNoticeProcessor", pq.set_listener);
  loading.find("PQstatus", pq.status);
  loading.find("PQerrorMessage", pq.words);
  loading.find("PQexec", pq.exec);
  loading.find("PQexecParams", pq.exec_params);
  loading.find("PQclear", pq.clear);
  loading.find("PQresultStatus", pq.result_status);
  loading.find("PQresultErrorField", pq.error_field);
  loading.find("PQcmdTuples", pq.changed);
  loading.find("PQntuples", pq.rows);
  loading.find("PQnfields", pq.columns);
  loading.find("PQftype", pq.type);
  loading.find("PQgetisnull", pq.is_null);
  loading.find("PQgetlength", pq.length);
  loading.find("PQgetvalue", pq.value);
  return pq;
}

}  // namespace

const Libpq& libpq() {
  static const Libpq pq = loaded();
  return pq;
}

}  // namespace kw::storing
