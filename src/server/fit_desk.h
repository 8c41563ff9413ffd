// What answers each address of the public pages. Private to server.
#pragma once

#include <mutex>

#include "kerfwright/store/job_table.h"

#include "fit_order.h"

namespace kw::serving {

inline constexpr const char* job_of_a_book = "book";

class FitDesk {
 public:
  FitDesk(const Cabinet& cabinet, const FitOptions& options);
  [[nodiscard]] Reply handle(const Request& request);

 private:
  [[nodiscard]] Reply list() const;
  [[nodiscard]] Reply fit(const Request& request);
  [[nodiscard]] Reply order(const Request& request, const Offer& offer);
  [[nodiscard]] Reply book(const Request& request) const;
  // Read once for each version: a version is never changed.
  [[nodiscard]] Outcome<std::shared_ptr<const Offer>> offer_named(const std::string& name);
  [[nodiscard]] std::string asker_of(const Request& request) const;

  Published published_;
  JobTable jobs_;
  bool is_behind_proxy_ = false;
  std::mutex mutex_;
  std::map<std::pair<std::string, std::int64_t>, std::shared_ptr<const Offer>> offers_ = {};
};

}  // namespace kw::serving
