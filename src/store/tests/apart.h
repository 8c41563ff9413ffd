// Work in a program of its own: what others do to a cabinet, and what is left when one is killed.
#pragma once

#include <exception>
#include <sys/wait.h>
#include <unistd.h>

namespace kw::testing_store {

// `work` gives true when all went well.
template <class Work>
pid_t begun_apart(Work work) {
  const pid_t child = ::fork();
  if (child != 0) return child;
  int code = 1;
  try {
    code = work() ? 0 : 1;
  } catch (const std::exception&) {
    code = 2;
  }
  ::_exit(code);
}

// 0 when all went well; -1 when it was killed.
inline int ended(pid_t child) {
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace kw::testing_store
