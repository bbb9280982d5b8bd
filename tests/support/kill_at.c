// SPDX-License-Identifier: BSD-3-Clause
// Loaded before a program (LD_PRELOAD): counts what the program does to files whose path holds the word KILL_IN, and ends it
// with SIGKILL at the one whose number is KILL_AT, half of a write done. Without KILL_AT the count goes to the file KILL_COUNT
// when the program ends. What a killed program leaves behind depends on these calls only, so killing it at each of them, and
// in the middle of each write, is killing it at every moment.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

static atomic_long done;

static int is_meant(const char* path) {
  const char* word = getenv("KILL_IN");
  return word != NULL && path != NULL && strstr(path, word) != NULL;
}

static int is_meant_file(int file) {
  char link[64], path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", file);
  const ssize_t length = readlink(link, path, sizeof path - 1);
  if (length < 0) return 0;
  path[length] = '\0';
  return is_meant(path);
}

// Whether the call that comes now is the one to die in.
static int is_last(void) {
  const char* at = getenv("KILL_AT");
  return atomic_fetch_add(&done, 1) + 1 == (at != NULL ? atol(at) : -1);
}

static void die(void) {
  kill(getpid(), SIGKILL);
  pause();
}

__attribute__((destructor)) static void tell(void) {
  const char* path = getenv("KILL_COUNT");
  FILE* file = path != NULL ? fopen(path, "w") : NULL;
  if (file == NULL) return;
  fprintf(file, "%ld\n", atomic_load(&done));
  fclose(file);
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

ssize_t write(int file, const void* bytes, size_t count) {
  if (!is_meant_file(file)) return REAL(write)(file, bytes, count);
  const int last = is_last();
  const ssize_t written = REAL(write)(file, bytes, last ? count / 2 : count);
  if (last) die();
  return written;
}

ssize_t pwrite(int file, const void* bytes, size_t count, off_t at) {
  if (!is_meant_file(file)) return REAL(pwrite)(file, bytes, count, at);
  const int last = is_last();
  const ssize_t written = REAL(pwrite)(file, bytes, last ? count / 2 : count, at);
  if (last) die();
  return written;
}

ssize_t pwrite64(int file, const void* bytes, size_t count, off64_t at) {
  if (!is_meant_file(file)) return REAL(pwrite64)(file, bytes, count, at);
  const int last = is_last();
  const ssize_t written = REAL(pwrite64)(file, bytes, last ? count / 2 : count, at);
  if (last) die();
  return written;
}

// The others are killed before they happen; after them is before the next.
int ftruncate(int file, off_t size) {
  if (is_meant_file(file) && is_last()) die();
  return REAL(ftruncate)(file, size);
}

int ftruncate64(int file, off64_t size) {
  if (is_meant_file(file) && is_last()) die();
  return REAL(ftruncate64)(file, size);
}

int fsync(int file) {
  if (is_meant_file(file) && is_last()) die();
  return REAL(fsync)(file);
}

int fdatasync(int file) {
  if (is_meant_file(file) && is_last()) die();
  return REAL(fdatasync)(file);
}

int rename(const char* from, const char* to) {
  if (is_meant(from) && is_last()) die();
  return REAL(rename)(from, to);
}

int unlink(const char* path) {
  if (is_meant(path) && is_last()) die();
  return REAL(unlink)(path);
}

int remove(const char* path) {
  if (is_meant(path) && is_last()) die();
  return REAL(remove)(path);
}
