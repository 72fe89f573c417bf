// Reading a JSON request strictly: every key must be known, every value of its kind, every message says
// where.
#pragma once

#include "verbs/verbs.h"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

using Json = nlohmann::ordered_json;

/// Text -> JSON; throws WrongCall with the library's position of the fault.
inline Json parse_json(std::string_view text) {
    try {
        return Json::parse(text);
    } catch (const Json::exception& error) {
        const std::string words = error.what();
        throw WrongCall(fmt::format("the request is not JSON: {}", words.substr(words.find("] ") + 2)));
    }
}

/// Throws WrongCall unless `at` is an object with no key beyond `known`.
inline void require_keys(const Json& at, const std::string& where,
                         std::initializer_list<std::string_view> known) {
    if (!at.is_object()) throw WrongCall(fmt::format("{} must be an object", where));
    for (const auto& [key, value] : at.items()) {
        if (std::ranges::find(known, key) != known.end()) continue;
        std::string all;
        for (const std::string_view name : known)
            all += fmt::format("{}{}", all.empty() ? "" : ", ", name);
        throw WrongCall(fmt::format("{} has the unknown key \"{}\"; known are {}", where, key, all));
    }
}

inline double read_number(const Json& value, const std::string& where) {
    if (!value.is_number()) throw WrongCall(fmt::format("{} must be a number", where));
    const double number = value.get<double>();
    if (!std::isfinite(number)) throw WrongCall(fmt::format("{} is too large a number", where));
    return number;
}

inline std::array<double, 2> read_pair(const Json& value, const std::string& where) {
    if (!value.is_array() || value.size() != 2)
        throw WrongCall(fmt::format("{} must be two numbers, [x, y]", where));
    return {read_number(value[0], where + "[0]"), read_number(value[1], where + "[1]")};
}

inline bool read_flag(const Json& value, const std::string& where) {
    if (!value.is_boolean()) throw WrongCall(fmt::format("{} must be true or false", where));
    return value.get<bool>();
}

inline std::string read_text(const Json& value, const std::string& where) {
    if (!value.is_string()) throw WrongCall(fmt::format("{} must be text", where));
    return value.get<std::string>();
}

inline std::string read_choice(const Json& value, const std::string& where,
                               const std::vector<std::string_view>& choices) {
    const std::string text = read_text(value, where);
    if (std::ranges::find(choices, text) == choices.end()) {
        std::string all;
        for (const std::string_view choice : choices)
            all += fmt::format("{}{}", all.empty() ? "" : ", ", choice);
        throw WrongCall(fmt::format("{} is \"{}\"; it must be one of {}", where, text, all));
    }
    return text;
}

inline const Json& read_list(const Json& value, const std::string& where) {
    if (!value.is_array()) throw WrongCall(fmt::format("{} must be a list", where));
    return value;
}

} // namespace ropeline
