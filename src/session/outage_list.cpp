#include "session/outage_list.h"
#include "json/member.h"
#include <algorithm>
#include <cctype>
#include <sstream>

namespace isochore::session {
namespace {

std::string lower(std::string text)
{
    for (char& c : text)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

bool to_show(OutageSummary const& s, OutageList::Show show)
{
    return show == OutageList::Show::all || s.archived == (show == OutageList::Show::archived);
}

} // namespace

OutageSummary summary_of(journal::JobHead const& head)
{
    Json const first = head.first.json(), last = head.last.json();
    Json const facts = member(first, "facts");
    OutageSummary s;
    s.job = head.job;
    s.station = text_member(facts, "station");
    s.bay = text_member(facts, "bay");
    s.breaker = text_member(facts, "breaker");
    s.job_no = text_member(facts, "job_no");
    s.begun_at = text_member(first, "at");
    s.last_at = text_member(last, "at");
    s.last_who = text_member(last, "who");
    s.sealed = text_member(last, "type") == "sealed" || member(last, "sealed") == true;
    s.archived = member(last, "archived") == true;
    return s;
}

Result<OutageList> OutageList::of(journal::Journal& journal)
{
    auto names = journal.job_names();
    if (!names)
        return tl::unexpected(names.error());
    OutageList list;
    list.m_names = std::move(*names);
    return list;
}

Result<void> OutageList::read_some(journal::Journal& journal, std::size_t count)
{
    for (std::size_t i = 0; i < count && !whole(); ++i) {
        auto const head = journal.head(m_names[m_rows.size()]);
        if (!head)
            return tl::unexpected(head.error());
        Row row{summary_of(*head), {}};
        row.lower = lower(row.summary.station + " " + row.summary.bay + " " + row.summary.breaker + " " +
                          row.summary.job_no);
        m_rows.push_back(std::move(row));
    }
    return {};
}

std::vector<OutageSummary const*> OutageList::find(std::string_view search, Show show, std::size_t most,
                                                   std::size_t& found) const
{
    std::vector<std::string> words;
    std::istringstream typed(lower(std::string(search)));
    for (std::string word; typed >> word;)
        words.push_back(word);
    std::vector<OutageSummary const*> rows;
    found = 0;
    for (auto const& row : m_rows) {
        bool const wanted = to_show(row.summary, show) &&
                            std::all_of(words.begin(), words.end(), [&](std::string const& word) {
                                return row.lower.find(word) != std::string::npos;
                            });
        if (!wanted)
            continue;
        ++found;
        if (rows.size() < most)
            rows.push_back(&row.summary);
    }
    return rows;
}

} // namespace isochore::session
