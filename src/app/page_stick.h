#pragma once
#include "app/background.h"
#include "app/desk.h"
#include "app/profile_finder.h"
#include "media/capacity_check.h"
#include "session/import_set.h"
#include "session/read_back.h"
#include "session/stick.h"
#include "session/stick_targets.h"
#include "session/trust_store.h"
#include "session/unit_listing.h"
#include <algorithm>
#include <set>

/// The sheets about settings sticks: which, what is on it, writing, reading, units, keys.
namespace isochore::app {

/// What the sheets about one stick share.
struct StickInHand {
    media::StickTarget target;
    bool removable = false;
    std::set<std::string, std::less<>> chosen;  ///< ids of the units that go on it
    std::optional<media::StickContent> content; ///< of the newest valid set
};
using Stick = std::shared_ptr<StickInHand>;

/// The frame of a sheet about sticks: that of the outage in hand, or plain at a desk.
void frame_stick(Desk& desk, screens::SheetView& sheet);
[[nodiscard]] screens::ProgressView progress_view(Desk& desk, std::string heading,
                                                  media::WriteProgress const& at);
/// "2026-03-02 08:14:05 UTC" of a manifest's time: no two sets of one key are of the same second.
[[nodiscard]] std::string set_time(std::string const& made_at);

/// Choose a target. Sticks come and go while it is open.
class StickPage final : public Page {
public:
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override { return 1.0; }
    void tick(Desk& desk) override;

private:
    void take_folder(Desk& desk, std::string const& path);
    session::StickLook m_look;
    std::optional<media::StickSearch> m_found;
};

/// What one target is, and what is on it now.
class StickTargetPage final : public Page {
public:
    explicit StickTargetPage(Stick stick) : m_stick(std::move(stick)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        bool const busy = m_reading.running() || m_checking.running() || m_releasing.running();
        return busy ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    struct Found {
        Result<std::vector<media::SetSummary>> sets;
        Result<media::VerifiedSet> newest;
        std::vector<media::TrustedKey> trusted;
        std::optional<media::StickContent> content; ///< of the newest
    };
    void release(Desk& desk);
    void read(Desk& desk);
    void offer_check(Desk& desk);
    [[nodiscard]] std::vector<screens::ListRow> set_rows(Desk& desk) const;
    [[nodiscard]] std::optional<screens::VerdictView> notice(Desk& desk) const;

    Stick m_stick;
    std::optional<Found> m_found;
    Background<Found> m_reading;
    Background<Result<media::CapacityReport>> m_checking;
    std::optional<Result<media::CapacityReport>> m_checked;
    Background<session::PutAway> m_releasing;
};

/// Writes, verifies, puts away; after a failure it says what still holds and offers to go on.
class StickWritePage final : public Page {
public:
    explicit StickWritePage(Stick stick) : m_stick(std::move(stick)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    /// Of units prepared here; those of outages and of sticks bring their profile along.
    [[nodiscard]] bool needs_library() const override
    {
        return !m_begun && std::any_of(m_stick->chosen.begin(), m_stick->chosen.end(),
                                       [](std::string const& id) { return id.starts_with("desk:"); });
    }
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        if (m_listing)
            return 0.0;
        return m_work.running() || !m_begun ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    void start(Desk& desk);
    void look(Desk& desk);
    void write(Desk& desk, std::function<Result<std::vector<media::SetFile>>()> files);
    Stick m_stick;
    bool m_begun = false;
    std::optional<session::UnitListing> m_listing; ///< of what was chosen, before the write
    std::string m_problem, m_before, m_before_at; ///< the set that was there before the first try
    Background<session::StickOutcome> m_work;
    std::optional<session::StickOutcome> m_outcome;
};

/// One set on a stick: read, verified, its contents, or by name why it is refused. Nothing of a refused set
/// is taken.
class StickSetPage final : public Page {
public:
    StickSetPage(Stick stick, std::string set) : m_stick(std::move(stick)), m_set(std::move(set)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return !m_imported && !m_storing.running(); }
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_work.running() || m_storing.running() ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    struct Found {
        Result<media::VerifiedSet> set;
        std::string unknown_key;     ///< signs it rightly, but is not trusted
        media::StickContent content; ///< of a set that holds
    };
    void read(Desk& desk);
    void import(Desk& desk, bool stale_accepted);
    [[nodiscard]] screens::VerdictView notice(Desk& desk) const;

    Stick m_stick;
    std::string m_set;
    Background<Found> m_work;
    std::optional<Found> m_found;
    std::optional<session::ImportPlan> m_plan; ///< being stored
    Background<Result<void>> m_storing;
    std::optional<session::ImportedSet> m_imported;
};

/// The units this tablet knows, and which of them go on the stick.
class UnitsPage final : public Page {
public:
    explicit UnitsPage(Stick stick) : m_stick(std::move(stick)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return !m_units; }
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_units ? std::nullopt : std::optional(0.0);
    }
    void tick(Desk& desk) override;

private:
    void begin(Desk& desk);
    void leave(Desk& desk);
    Stick m_stick;                                 ///< none: looked at from the desk
    std::optional<session::UnitListing> m_listing; ///< under way
    std::optional<Result<std::vector<session::ListedUnit>>> m_units;
};
/// Looks at units for as long as a frame may take.
void look_for_a_moment(session::UnitListing& listing);
[[nodiscard]] screens::ProgressView listing_progress(Desk& desk, session::UnitListing const& listing);

/// One unit: its values over the profile's, what is derived, what conflicts. Units of the desk are edited
/// here; every value is stored when it is entered.
class UnitPage final : public Page {
public:
    UnitPage(Stick stick, std::optional<session::ListedUnit> unit);
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] bool needs_library() const override { return true; }

private:
    [[nodiscard]] bool editable() const;
    void store(Desk& desk, media::UnitValues values);
    void edit(Desk& desk, std::string const& path);
    void copy(Desk& desk);
    Stick m_stick;
    std::optional<session::ListedUnit> m_unit; ///< none: the model is still to be chosen
    ProfileFinder m_finder{true};
};

/// Asks whether a key is to be trusted: its fingerprint is compared with the owner's, then a person with a
/// PIN answers for it. `then` is called once it is trusted.
void ask_to_trust(Desk& desk, std::string const& key, std::function<void()> then);

/// Keys whose sticks are believed.
class TrustPage final : public Page {
public:
    explicit TrustPage(Stick stick) : m_stick(std::move(stick)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;

private:
    void remove(Desk& desk, std::string const& key);
    Stick m_stick;
};

/// What the unit shows, field by field beside what was loaded.
class ReadBackPage final : public Page {
public:
    explicit ReadBackPage(std::string step) : m_step(std::move(step)) {}
    void view(Desk& desk, screens::SheetView& sheet, screens::PictureSpace space) override;
    void act(Desk& desk, screens::Intent const& intent) override;
    [[nodiscard]] std::optional<double> wake_in_s() const override
    {
        return m_reading.running() ? std::optional(0.1) : std::nullopt;
    }
    void tick(Desk& desk) override;

private:
    [[nodiscard]] model::Step const& step(Desk& desk) const;
    void type(Desk& desk, std::string const& path, bool then_next);
    void type_next(Desk& desk);
    void from_stick(Desk& desk, std::string const& folder);
    void record(Desk& desk);
    std::string m_step;
    bool m_anew = false; ///< the next reading begins a new list
    Background<Result<session::UnitReport>> m_reading;
};

/// Asks for one value of a setting: digits with units, a choice, or a text.
[[nodiscard]] EntryRequest entry_for(Desk& desk, std::string_view label, model::ProfileField::Kind kind,
                                     Dimension dimension, std::vector<std::string> const& choices,
                                     std::string const& typed);

} // namespace isochore::app
