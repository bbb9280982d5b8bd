// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/steady_driver.hpp"

#include "models/error.hpp"

#if __has_include(<H5FDdevelop.h>)
#include <H5FDdevelop.h>
#endif

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <string>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield::hdf5 {
namespace {

constexpr haddr_t last_address = (haddr_t{1} << 62U) - 1U;

struct SteadyFile {
  H5FD_t library{};  // first: the library passes pointers to it
  int handle = -1;
  haddr_t allocated = 0, written = 0;
  int error = 0;
  std::vector<std::pair<haddr_t, std::string>> lost;  // what did not reach the disk, oldest first
};

SteadyFile& self(H5FD_t* file) { return *reinterpret_cast<SteadyFile*>(file); }
const SteadyFile& self(const H5FD_t* file) { return *reinterpret_cast<const SteadyFile*>(file); }

H5FD_t* open_file(const char* name, unsigned flags, hid_t, haddr_t) {
  // The file was made for this (sim/base/new_file.hpp): no other is opened, and none that a link leads to.
  const int handle = ::open(name, O_RDWR | O_NOFOLLOW | O_CLOEXEC | ((flags & H5F_ACC_TRUNC) != 0U ? O_TRUNC : 0));
  if (handle < 0) return nullptr;
  auto* file = new SteadyFile;
  file->handle = handle;
  const off_t size = ::lseek(handle, 0, SEEK_END);
  file->written = size > 0 ? static_cast<haddr_t>(size) : 0;
  return &file->library;
}

herr_t close_file(H5FD_t* file) {
  ::close(self(file).handle);
  delete &self(file);
  return 0;
}

int compare(const H5FD_t* a, const H5FD_t* b) { return a == b ? 0 : (a < b ? -1 : 1); }

herr_t query(const H5FD_t*, unsigned long* flags) {
  if (flags != nullptr)
    *flags = H5FD_FEAT_AGGREGATE_METADATA | H5FD_FEAT_ACCUMULATE_METADATA | H5FD_FEAT_DATA_SIEVE |
             H5FD_FEAT_AGGREGATE_SMALLDATA | H5FD_FEAT_DEFAULT_VFD_COMPATIBLE;
  return 0;
}

haddr_t allocated(const H5FD_t* file, H5FD_mem_t) { return self(file).allocated; }

herr_t set_allocated(H5FD_t* file, H5FD_mem_t, haddr_t address) {
  self(file).allocated = address;
  return 0;
}

haddr_t end_of_file(const H5FD_t* file, H5FD_mem_t) { return self(file).written; }

herr_t handle_of(H5FD_t* file, hid_t, void** handle) {
  *handle = &self(file);
  return 0;
}

herr_t read_block(H5FD_t* file, H5FD_mem_t, hid_t, haddr_t address, std::size_t size, void* buffer) {
  auto* bytes = static_cast<char*>(buffer);
  std::size_t done = 0;
  while (done < size) {
    const ssize_t count = ::pread(self(file).handle, bytes + done, size - done, static_cast<off_t>(address + done));
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return -1;
    if (count == 0) break;
    done += static_cast<std::size_t>(count);
  }
  std::memset(bytes + done, 0, size - done);
  for (const auto& [start, block] : self(file).lost) {
    const haddr_t from = std::max(start, address), to = std::min(start + block.size(), address + size);
    if (from < to) std::memcpy(bytes + (from - address), block.data() + (from - start), to - from);
  }
  return 0;
}

herr_t write_block(H5FD_t* file, H5FD_mem_t, hid_t, haddr_t address, std::size_t size, const void* buffer) {
  SteadyFile& f = self(file);
  const auto* bytes = static_cast<const char*>(buffer);
  std::size_t done = 0;
  while (done < size && f.error == 0) {
    const ssize_t count = ::pwrite(f.handle, bytes + done, size - done, static_cast<off_t>(address + done));
    if (count >= 0)
      done += static_cast<std::size_t>(count);
    else if (errno != EINTR)
      f.error = errno;
  }
  if (f.error != 0) f.lost.emplace_back(address, std::string(bytes, size));
  f.written = std::max(f.written, address + size);
  return 0;
}

herr_t truncate(H5FD_t* file, hid_t, hbool_t) {
  SteadyFile& f = self(file);
  if (f.allocated == f.written) return 0;
  if (f.error == 0 && ::ftruncate(f.handle, static_cast<off_t>(f.allocated)) != 0) f.error = errno;
  f.written = f.allocated;
  return 0;
}

H5FD_class_t driver_class() {
  H5FD_class_t c{};
#ifdef H5FD_CLASS_VERSION
  c.version = H5FD_CLASS_VERSION;
  c.value = static_cast<H5FD_class_value_t>(1207);  // of the range left to users
#endif
  c.name = "hoopfield_steady";
  c.maxaddr = last_address;
  c.fc_degree = H5F_CLOSE_WEAK;
  c.open = open_file;
  c.close = close_file;
  c.cmp = compare;
  c.query = query;
  c.get_eoa = allocated;
  c.set_eoa = set_allocated;
  c.get_eof = end_of_file;
  c.get_handle = handle_of;
  c.read = read_block;
  c.write = write_block;
  c.truncate = truncate;
  const H5FD_mem_t map[] = H5FD_FLMAP_DICHOTOMY;
  std::copy(std::begin(map), std::end(map), std::begin(c.fl_map));
  return c;
}

}  // namespace

void use_steady_driver(const H5::FileAccPropList& access) {
  static const H5FD_class_t description = driver_class();
  static const hid_t driver = H5FDregister(&description);
  if (driver < 0 || H5Pset_driver(access.getId(), driver, nullptr) < 0)
    throw IoError("HDF5 could not take the file driver");
}

int disk_error(const H5::H5File& file) {
  void* handle = nullptr;
  if (H5Fget_vfd_handle(file.getId(), H5P_DEFAULT, &handle) < 0 || handle == nullptr) return EIO;
  return static_cast<SteadyFile*>(handle)->error;
}

}  // namespace hoopfield::hdf5
