#include "support/recording_disk.h"
#include <algorithm>
#include <random>
#include <set>

namespace isochore::test {
namespace {

using Operation = RecordingDisk::Operation;
using Kind = Operation::Kind;

// The smallest thing that reaches the medium or does not: a sector of data, a size, a name.
struct Atom {
    Operation operation;
    std::size_t group = 0; ///< atoms of one group share their fate (an atomic rename); 0: on its own
    bool flushed = false;
};

std::string parent_of(std::string const& path)
{
    return disk::Path(path).parent_path().string();
}

} // namespace

/// Turns the log up to a crash point into atoms, and a choice of atoms into a disk.
class CrashReplay {
public:
    CrashReplay(RecordingDisk const& recorded, CrashModel const& model) : m_recorded(recorded), m_model(model)
    {
    }

    /// Takes the operation at `index` into account.
    void advance(std::size_t index)
    {
        Operation const& operation = m_recorded.m_operations[index];
        switch (operation.kind) {
        case Kind::write:
            add_write(operation);
            break;
        case Kind::truncate:
            m_atoms.push_back({operation});
            break;
        case Kind::link:
            m_atoms.push_back({operation, operation.with_next && m_model.atomic_rename ? ++m_groups : 0});
            m_joins_next = operation.with_next && m_model.atomic_rename;
            break;
        case Kind::unlink:
            m_atoms.push_back({operation, m_joins_next ? m_groups : 0});
            m_joins_next = false;
            break;
        case Kind::flush_node:
            flush([&](Atom const& atom) { return is_data(atom) && atom.operation.node == operation.node; });
            break;
        case Kind::flush_directory:
            flush([&](Atom const& atom) {
                return !is_data(atom) && parent_of(atom.operation.path) == operation.path;
            });
            break;
        case Kind::confirm:
            m_promises.push_back(operation.bytes);
            break;
        }
    }

    /// Fates that are free: groups and single atoms not yet flushed, oldest first.
    [[nodiscard]] std::vector<std::vector<std::size_t>> free_atoms() const
    {
        std::vector<std::vector<std::size_t>> out;
        std::size_t last_group = 0;
        for (std::size_t i = 0; i < m_atoms.size(); ++i) {
            if (m_atoms[i].flushed)
                continue;
            if (m_atoms[i].group != 0 && m_atoms[i].group == last_group)
                out.back().push_back(i);
            else
                out.push_back({i});
            last_group = m_atoms[i].group;
        }
        return out;
    }

    /// The disk when the atoms marked in `lost` never reached the medium.
    [[nodiscard]] RecordingDisk after(std::vector<bool> const& lost) const
    {
        RecordingDisk out;
        out.m_names = m_recorded.m_start_names;
        out.m_nodes = m_recorded.m_start_nodes;
        out.m_next_node = m_recorded.m_next_node;
        for (std::size_t i = 0; i < m_atoms.size(); ++i)
            if (!lost[i])
                apply(out, m_atoms[i].operation);
        for (auto const& [path, node] : out.m_names)
            if (node != RecordingDisk::directory_node)
                out.m_nodes[node]; // a name whose file never got anything is an empty file
        // What lies in a folder that was lost is out of reach; folders come before what is in them.
        std::erase_if(out.m_names, [&out](auto const& item) {
            auto const above = out.m_names.find(parent_of(item.first));
            return above == out.m_names.end() || above->second != RecordingDisk::directory_node;
        });
        out.settle();
        return out;
    }

    [[nodiscard]] std::size_t atom_count() const { return m_atoms.size(); }
    [[nodiscard]] std::vector<std::string> const& promises() const { return m_promises; }

private:
    static bool is_data(Atom const& atom)
    {
        return atom.operation.kind == Kind::write || atom.operation.kind == Kind::truncate;
    }

    // Written in sectors, a few together where there are many; the new size may arrive without the data.
    void add_write(Operation const& operation)
    {
        std::size_t const size = operation.bytes.size();
        m_atoms.push_back({{.kind = Kind::write, .node = operation.node, .offset = operation.offset + size}});
        std::size_t const sector = m_model.sector_bytes;
        std::size_t const sectors = (size + sector - 1) / sector;
        std::size_t const pieces = std::min(sectors, m_model.most_pieces);
        for (std::size_t piece = 0; piece < pieces; ++piece) {
            std::size_t const from = sectors * piece / pieces * sector;
            std::size_t const to = std::min(size, sectors * (piece + 1) / pieces * sector);
            m_atoms.push_back({{.kind = Kind::write,
                                .node = operation.node,
                                .offset = operation.offset + from,
                                .bytes = operation.bytes.substr(from, to - from)}});
        }
    }

    template <class Which> void flush(Which which)
    {
        for (Atom& atom : m_atoms)
            if (which(atom))
                atom.flushed = true;
        // One flushed half of an atomic rename brings the other.
        std::set<std::size_t> groups;
        for (Atom const& atom : m_atoms)
            if (atom.flushed && atom.group != 0)
                groups.insert(atom.group);
        for (Atom& atom : m_atoms)
            if (groups.contains(atom.group))
                atom.flushed = true;
    }

    static void apply(RecordingDisk& out, Operation const& operation)
    {
        switch (operation.kind) {
        case Kind::write: {
            std::string& content = out.m_nodes[operation.node];
            std::size_t const end = operation.offset + operation.bytes.size();
            if (content.size() < end)
                content.resize(end, '\0');
            content.replace(operation.offset, operation.bytes.size(), operation.bytes);
            break;
        }
        case Kind::truncate:
            out.m_nodes[operation.node].resize(operation.offset, '\0');
            break;
        case Kind::link:
            out.m_names[operation.path] = operation.node;
            break;
        case Kind::unlink:
            out.m_names.erase(operation.path);
            break;
        default:
            break;
        }
    }

    RecordingDisk const& m_recorded;
    CrashModel const& m_model;
    bool m_joins_next = false;
    std::size_t m_groups = 0;
    std::vector<Atom> m_atoms;
    std::vector<std::string> m_promises;
};

namespace {

// Which fates are lost: all subsets where they fit the bound, else the telling ones and a sample.
std::vector<std::vector<bool>> choices(std::size_t fates, std::size_t most, std::mt19937& random)
{
    std::vector<std::vector<bool>> out;
    if (fates < 20 && (std::size_t{1} << fates) <= most) {
        for (std::size_t mask = 0; mask < (std::size_t{1} << fates); ++mask) {
            std::vector<bool> lost(fates);
            for (std::size_t i = 0; i < fates; ++i)
                lost[i] = (mask >> i) & 1;
            out.push_back(std::move(lost));
        }
        return out;
    }
    out.emplace_back(fates, false);
    out.emplace_back(fates, true);
    for (std::size_t i = 0; i < fates && out.size() + 3 < most; ++i) {
        std::vector<bool> one_lost(fates, false), one_kept(fates, true), later_lost(fates, false);
        one_lost[i] = true;
        one_kept[i] = false;
        std::fill(later_lost.begin() + static_cast<std::ptrdiff_t>(i), later_lost.end(), true);
        out.insert(out.end(), {one_lost, one_kept, later_lost});
    }
    while (out.size() < most) {
        auto const share = random() % 7 + 1; // few, half or most lost
        std::vector<bool> lost(fates);
        for (std::size_t i = 0; i < fates; ++i)
            lost[i] = random() % 8 < share;
        out.push_back(std::move(lost));
    }
    return out;
}

std::size_t fingerprint(RecordingDisk const& disk, std::size_t promises)
{
    std::string all = std::to_string(promises);
    for (auto const& [path, content] : disk.contents())
        all.append("\n").append(path).append("\n").append(content);
    return std::hash<std::string>{}(all);
}

} // namespace

CrashCount explore_crashes(RecordingDisk const& recorded, CrashModel model,
                           std::function<void(RecordingDisk&, std::vector<std::string> const&)> check)
{
    std::mt19937 random(model.seed);
    CrashReplay replay(recorded, model);
    auto const& operations = recorded.operations();
    CrashCount count;
    std::set<std::size_t> seen;
    for (std::size_t done = 0; done <= operations.size(); ++done) {
        if (done > 0)
            replay.advance(done - 1);
        // Before a promise the disk is as after it, and after it more is asked.
        if (done < operations.size() && operations[done].kind == Kind::confirm)
            continue;
        if (done > 0 && operations[done - 1].with_next && model.atomic_rename)
            continue;
        ++count.points;
        auto const fates = replay.free_atoms();
        for (auto const& choice : choices(fates.size(), model.states_per_point, random)) {
            std::vector<bool> lost(replay.atom_count());
            for (std::size_t i = 0; i < fates.size(); ++i)
                for (std::size_t const atom : fates[i])
                    lost[atom] = choice[i];
            RecordingDisk after = replay.after(lost);
            if (!seen.insert(fingerprint(after, replay.promises().size())).second)
                continue;
            ++count.states;
            check(after, replay.promises());
        }
    }
    return count;
}

} // namespace isochore::test
