// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One include for Catch2 2.13 and 3. The main function comes from the library target, never from here.
#pragma once

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& text) { return Catch::Matchers::Contains(text); }
#endif
