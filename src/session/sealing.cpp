#include "session/sealing.h"
#include "disk/whole_file.h"
#include "seal/record.h"
#include "session/attach.h"
#include "session/record_document.h"
#include "json/member.h"
#include "json/read.h"
#include <algorithm>
#include <fmt/format.h>

namespace isochore::session {

using Code = Error::Code;

namespace {

constexpr std::string_view review_step = "handback.review", sign_step = "handback.sign";

/// The first answer that is not a refusal.
std::string good_answer(model::Step const& step)
{
    for (auto const& a : step.answers)
        if (a.ok)
            return a.id;
    return {};
}

std::string remark_on(LostFile const& lost)
{
    return lost.missing ? fmt::format("At the signing the attached file “{}” is missing.", lost.name)
                        : fmt::format("At the signing the attached file “{}” is altered.", lost.name);
}

Result<void> close_step(Outage& outage, std::string_view id)
{
    model::Step const* step = outage.checklists().step(id);
    if (!step || model::is_closed(outage.state().record(id).status))
        return {};
    auto const done = outage.record_answer(id, good_answer(*step), outage.who(), outage.who());
    if (!done)
        return tl::unexpected(done.error());
    return {};
}

} // namespace

std::vector<std::string> pinned_hashes(Outage const& outage)
{
    std::vector<std::string> hashes;
    auto const add = [&hashes](std::string hash) {
        if (!hash.empty() && std::find(hashes.begin(), hashes.end(), hash) == hashes.end())
            hashes.push_back(std::move(hash));
    };
    for (auto const& body : outage.bodies()) {
        std::string const type = text_member(body, "type");
        if (type != "created" && type != "moved")
            continue;
        Json const texts = type == "moved" ? member(body, "to_texts") : body;
        if (Json const lists = member(texts, "checklists"); lists.is_array())
            for (auto const& item : lists)
                add(text_member(item, "hash"));
        add(text_member(member(texts, "profile"), "hash"));
    }
    return hashes;
}

disk::Path record_folder(Workspace const& workspace, Outage const& outage)
{
    return workspace.folders().data / "records" / outage.job();
}

std::vector<model::Deviation> blocks_signing(Outage const& outage)
{
    std::vector<model::Deviation> list;
    for (auto& d : model::deviations(outage.checklists(), outage.state()))
        if (d.blocks_signing && d.step->id != review_step && d.step->id != sign_step)
            list.push_back(std::move(d));
    return list;
}

Result<SealedFiles> sign_and_seal(Workspace& workspace, Outage& outage, seal::Person const& person,
                                  std::string strokes, disk::Path const& folder, language::Words const& words)
{
    if (outage.state().sealed)
        return fail(Code::denied, outage.job(), "this outage is sealed already");
    if (person.role != seal::Role::supervisor)
        return fail(Code::denied, person.name, "only a supervisor signs the record");
    if (auto const open = blocks_signing(outage); !open.empty())
        return fail(Code::denied, open.front().step->title,
                    open.front().text + ": close it, put it off with an owner, or override it first");
    auto& disk = workspace.disk();
    auto key = seal::load_or_make_key(disk, workspace.folders().data);
    if (!key)
        return tl::unexpected(key.error());
    for (auto const& parent : {folder.parent_path(), folder})
        if (auto const made = disk::make_durable_directory(disk, parent); !made)
            return tl::unexpected(made.error());

    std::string const crew = outage.who();
    outage.set_who(person.name);
    auto const back_to_crew = [&outage, &crew](Error const& e) {
        outage.set_who(crew);
        return tl::unexpected(e);
    };
    if (auto const done = close_step(outage, review_step); !done)
        return back_to_crew(done.error());
    if (outage.state().signatures.empty()) {
        // A photo that is gone keeps nobody from signing, but whoever reads the record knows it.
        for (auto const& lost : lost_files(workspace, outage))
            if (auto const said = outage.note({{"type", "remark"}, {"text", remark_on(lost)}}); !said)
                return back_to_crew(said.error());
        Json body{{"type", "signed"}, {"role", seal::role_name(person.role)}, {"meaning", signature_meaning}};
        if (!strokes.empty())
            body["strokes"] = strokes;
        if (auto const done = outage.note(std::move(body)); !done)
            return back_to_crew(done.error());
    }
    if (auto const done = close_step(outage, sign_step); !done)
        return back_to_crew(done.error());

    auto const hashes = pinned_hashes(outage);
    auto const record = seal::build_record(outage.journal(), outage.job(), hashes, *key);
    if (!record)
        return back_to_crew(record.error());
    SealedFiles files;
    files.record_hash = sha256_hex(*record);
    files.record = folder / (outage.job() + ".record.json");
    files.pdf = folder / (outage.job() + ".pdf");
    if (auto const done = disk::keep_whole(disk, files.record, *record); !done)
        return back_to_crew(done.error());
    auto const pdf = record_pdf_of(outage, files.record_hash, key->public_key(), key->fingerprint(), words);
    if (!pdf)
        return back_to_crew(pdf.error());
    if (auto const done = disk::keep_whole(disk, files.pdf, *pdf); !done)
        return back_to_crew(done.error());
    Json sealed{{"type", "sealed"}, {"record", files.record_hash}, {"pdf", sha256_hex(*pdf)}};
    sealed["key"] = key->public_key();
    sealed["text"] = "Record sealed";
    if (auto const done = outage.note(std::move(sealed)); !done)
        return back_to_crew(done.error());
    return files;
}

} // namespace isochore::session
