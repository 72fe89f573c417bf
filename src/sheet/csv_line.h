// Inside src/sheet: one line of CSV, field by field.
#pragma once

#include "sheet/csv.h"

#include <fmt/core.h>

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>

namespace ropeline {

class CsvLine {
public:
    CsvLine& operator<<(std::string_view text) { return raw(csv_field(text)); }
    CsvLine& operator<<(std::int64_t value) { return raw(std::to_string(value)); }
    CsvLine& operator<<(int value) { return raw(std::to_string(value)); }
    CsvLine& operator<<(bool value) { return raw(value ? "1" : "0"); }
    CsvLine& operator<<(double value) {
        return raw(fmt::format("{}", value));
    } // shortest that reads back the same

    template <class Value>
    CsvLine& operator<<(const std::optional<Value>& value) {
        if (!value) return raw("");
        if constexpr (std::is_enum_v<Value>)
            return *this << key_of(*value);
        else
            return *this << *value;
    }

    void end(std::string& csv) {
        csv += text_ + "\r\n";
        text_.clear();
        first_ = true;
    }

private:
    CsvLine& raw(const std::string& field) {
        if (!first_) text_ += ',';
        text_ += field;
        first_ = false;
        return *this;
    }
    std::string text_;
    bool first_ = true;
};

} // namespace ropeline
