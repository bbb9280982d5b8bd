// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Commands and their options as the rest of the front end declares them. The option parser stands behind one source,
/// command_line.cpp: its headers take longer to compile than any command.
#pragma once

#include "bindings/cli/words.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace hoopfield::cli {

struct CommonOptions {
  UnitStyle units = UnitStyle::metric;
  std::optional<UnitStyle> chosen_units = {};  ///< set when the option was given
  bool overwrite = false;
};

/// An option just declared; each call says one thing more about it.
class Option {
 public:
  explicit Option(CLI::Option* option) : option_(option) {}
  Option& required();
  Option& type_name(const std::string& word);  ///< what stands for the value in the help
  Option& one_of(const std::vector<std::string>& words);
  Option& between(int low, int high);
  Option& between(double low, double high);
  Option& show_default();  ///< the value the variable has now, in the help
  Option& show_default(const std::string& text);
  Option& excludes(const Option& other);  ///< not together with that one

 private:
  CLI::Option* option_;
};

class Program;

/// One command. Variables handed over must live until the program has run.
class Command {
 public:
  Command(Program& program, CLI::App& app) : program_(&program), app_(&app) {}

  /// A command below this one with the options all commands share and an example under its help.
  [[nodiscard]] Command add_command(const std::string& name, const std::string& description,
                                    const std::string& example) const;
  /// A word before other commands, such as `film`; does nothing by itself.
  [[nodiscard]] Command add_group(const std::string& name, const std::string& description) const;

  /// `Value` is std::string, std::vector<std::string>, double, int, unsigned or std::size_t.
  template <typename Value>
  Option add_option(const std::string& names, Value& value, const std::string& description) const;
  /// Calls `take` with what was typed.
  Option add_option(const std::string& names, std::function<void(const std::string&)> take,
                    const std::string& description) const;
  Option add_flag(const std::string& names, bool& value, const std::string& description) const;

  /// Adds --units, for a command whose page has units; --overwrite, for one that writes files.
  Option takes_units() const;
  void takes_overwrite() const;

  /// What to do when this command was asked for; returns the exit code.
  void runs(std::function<int()> action) const;
  [[nodiscard]] const CommonOptions& common() const;

 private:
  Program* program_;
  CLI::App* app_;
};

/// The command line under construction. Parsing picks one action.
class Program {
 public:
  Program();
  ~Program();
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  [[nodiscard]] Command root() { return {*this, *app_}; }
  void set_version(const std::string& text);
  void set_footer(const std::string& text);
  [[nodiscard]] std::string help() const;

  /// Exit code when nothing is left to do (--help, --version). Throws InputError for a command line that is not one.
  [[nodiscard]] std::optional<int> parse(int argc, const char* const* argv);

  CommonOptions options;
  std::function<int()> action;  ///< empty: no command was named

 private:
  std::unique_ptr<CLI::App> app_;
};

}  // namespace hoopfield::cli
