#include "publish/publish.h"

#include "publish/copy_line.h"
#include "publish/mirror_text.h"
#include "publish/mirrored_tables.h"
#include "publish/server_words.h"
#include "season/beside.h"
#include "season/connection.h"
#include "season/sql.h"

#include <pqxx/pqxx>

namespace ropeline {

/// How libpqxx 6 is told to take a row that is a line already: its stream joins a row's fields by this name.
static std::string separated_list(const std::string&, const CopyLine& line,
                                  const pqxx::internal::TypedCopyEscaper&) {
    return line.text;
}

namespace {

constexpr int oldest_server = 150000; ///< views that read with the rights of whoever asks came with it

std::string all_statements(SQLite::Database& season) {
    std::string text{mirror_text()};
    const std::string mark = "--tables";
    return text.replace(text.find(mark), mark.size(), table_statements(season));
}

/// The view anew. One whose columns went or changed their place cannot be replaced: it goes, and whoever was let in stays in.
void make_view(pqxx::work& work, const std::string& statement) {
    constexpr const char* columns_changed = "42P16"; // PostgreSQL, Appendix A: invalid_table_definition
    try {
        pqxx::subtransaction attempt{work};
        attempt.exec0(statement);
        return attempt.commit();
    } catch (const pqxx::sql_error& error) {
        if (error.sqlstate() != columns_changed) throw;
    }
    const auto let_in = work.exec(
        "SELECT coalesce(quote_ident(reader.rolname), 'PUBLIC'), grants.privilege_type FROM pg_class AS view "
        "CROSS JOIN LATERAL aclexplode(view.relacl) AS grants LEFT JOIN pg_roles AS reader "
        "ON reader.oid = grants.grantee "
        "WHERE view.oid = 'ropeline.shot_facts'::regclass AND grants.grantee <> view.relowner");
    work.exec0("DROP VIEW ropeline.shot_facts");
    work.exec0(statement);
    for (const auto& grant : let_in)
        work.exec0(fmt::format("GRANT {} ON ropeline.shot_facts TO {}", grant[1].c_str(), grant[0].c_str()));
}

/// Makes what is missing. Where it was made by these very statements already, nothing is touched: making anew waits for
/// every reader and lets none in until the end.
void make_schema(pqxx::work& work, SQLite::Database& season) {
    const std::string statements = all_statements(season);
    const auto there = work.exec1("SELECT to_regclass('ropeline.layout') IS NOT NULL");
    if (there[0].as<bool>()) {
        const auto same = work.exec1("SELECT EXISTS (SELECT 1 FROM ropeline.layout WHERE made_by = md5(" +
                                     work.quote(statements) + "))");
        if (same[0].as<bool>()) return;
    }
    const std::size_t view = statements.find("CREATE OR REPLACE VIEW");
    work.exec0(statements.substr(0, view));
    make_view(work, statements.substr(view));
    work.exec0("CREATE TABLE IF NOT EXISTS ropeline.layout (made_by text NOT NULL)");
    work.exec0("DELETE FROM ropeline.layout");
    work.exec0("INSERT INTO ropeline.layout VALUES (md5(" + work.quote(statements) + "))");
}

class TableMirror {
public:
    TableMirror(pqxx::work& work, SQLite::Database& season, const std::string& season_id,
                const PublishProgress& progress)
        : work_(work), season_(season), season_id_(season_id), progress_(progress) {}

    std::int64_t write(const MirroredTable& table) {
        work_.exec0(fmt::format("DELETE FROM {} WHERE season_id = {}", table.name, work_.quote(season_id_)));
        std::vector<std::string> names{"season_id", "of_teams"};
        int short_path = -1;
        for (const MirroredColumn& column : columns_of(season_, table)) {
            if (column.name == "path") short_path = static_cast<int>(names.size());
            names.push_back(column.name);
        }
        const std::int64_t rows = copy(table, names, short_path);
        work_.exec0(fmt::format("ANALYZE {}", table.name));
        return rows;
    }

private:
    std::int64_t copy(const MirroredTable& table, const std::vector<std::string>& names, int short_path) {
        RawStatement row{season_, rows_query(season_, table)};
        pqxx::stream_to stream{work_, table.name, names};
        std::int64_t rows = 0;
        while (row.step()) {
            stream << copy_line(row, season_id_, short_path);
            if (progress_ && ++sent_ % 1000 == 0) progress_(sent_);
            ++rows;
        }
        stream.complete();
        return rows;
    }

    pqxx::work& work_;
    SQLite::Database& season_;
    const std::string& season_id_;
    const PublishProgress& progress_;
    std::int64_t sent_ = 0;
};

PublishReport mirror_all(pqxx::connection& connection, SQLite::Database& season,
                         const PublishProgress& progress) {
    PublishReport report;
    const std::string season_id = season.execAndGet("SELECT id FROM season").getString();
    pqxx::work work{connection};
    constexpr const char* one_at_a_time =
        "SELECT pg_advisory_xact_lock(1383099502)"; // the season file's own number
    work.exec1(one_at_a_time);
    make_schema(work, season);
    work.exec0("SET LOCAL search_path TO ropeline");
    TableMirror mirror{work, season, season_id, progress};
    for (const MirroredTable& table : mirrored_tables()) {
        const std::int64_t rows = mirror.write(table);
        report.rows += rows;
        if (table.name == "shot") report.shots = rows;
    }
    work.commit();
    return report;
}

} // namespace

PublishReport publish_season(const std::filesystem::path& path, const std::string& to,
                             const PublishProgress& progress) {
    check_target(to);
    const auto season = connect_to_copy(one_name(path));
    return guarded(path, [&] {
        try {
            pqxx::connection connection{to};
            if (connection.server_version() < oldest_server)
                throw PublishError("the server's PostgreSQL is older than 15. Ask for a newer one.");
            connection.set_client_encoding("UTF8");
            return mirror_all(connection, *season, progress);
        } catch (const pqxx::broken_connection& error) {
            throw PublishError("the server cannot be reached or was lost, so it has what it had: " +
                               server_words(error.what()));
        } catch (const pqxx::failure& error) {
            throw PublishError("the server did not take it, so it has what it had: " +
                               server_words(error.what()));
        }
    });
}

} // namespace ropeline
