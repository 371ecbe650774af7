#pragma once
#include "files/profile_library.h"
#include "media/signing.h"
#include "json/value.h"

/// Whether a released revision may be taken for an outage, and what a person must accept first. The limits of
/// the work come from it, so that who answers for it is held against the keys this tablet trusts.
namespace isochore::session {

class Workspace;

/// How the release of one revision stands.
struct ReleaseStanding {
    enum class Keys {
        known,   ///< every sign-off carries a signature that holds, by a key this tablet trusts
        unknown, ///< every signature holds, but nobody here trusts a key of them
        none,    ///< a sign-off is by name only
        broken,  ///< a signature does not fit what it signs
    };
    Keys keys = Keys::none;
    std::vector<std::string> unknown; ///< public keys that nobody here trusts, each once
    bool practice = false;            ///< an invented model: nothing but practice comes of it
    int revision = 0;
    /// The newest revision above this one that was withdrawn; 0: none.
    int withdrawn = 0;
    std::string withdrawn_by, withdrawn_on;

    /// No outage takes it until its key is trusted.
    [[nodiscard]] bool refused() const { return !practice && keys == Keys::unknown; }
    /// A person must accept it by name and with a reason before an outage takes it.
    [[nodiscard]] bool to_accept() const { return withdrawn > 0 || (!practice && keys == Keys::none); }
    /// What is unusual about it, a sentence each; empty where nothing is.
    [[nodiscard]] std::vector<std::string> sentences() const;
    /// All of them as one text.
    [[nodiscard]] std::string say() const;
    /// For the record: "signed with key 1a2b 3c4d …", "by name only, nobody signed it".
    [[nodiscard]] std::string in_short() const;
    std::vector<std::string> fingerprints; ///< of all keys, each once
};

/// Of the revision itself, whose signatures were verified; the keys' owners are those of `trust`.
[[nodiscard]] ReleaseStanding standing_of(model::Profile const& profile,
                                          std::vector<files::SignatureState> const& signatures,
                                          media::Trust const& trust);
/// The same with what the library says about newer revisions of the model.
[[nodiscard]] ReleaseStanding standing_of(files::LibraryEntry const& entry,
                                          files::ProfileLibrary const& library, media::Trust const& trust);
/// The same by what this tablet has and trusts. Errors: as tablet_trust.
[[nodiscard]] Result<ReleaseStanding> standing_of(Workspace& workspace, files::LibraryEntry const& entry);

/// Who took an unusual release all the same, and why.
struct AcceptedRelease {
    std::string by, why;
    bool pin_checked = false;
};
/// Whether an outage may begin on it. Errors: denied (a key that is not trusted; not accepted; accepted
/// without a PIN where `pins` are kept), missing_input (no name, no reason).
[[nodiscard]] Result<void> may_begin_on(ReleaseStanding const& standing, AcceptedRelease const& accepted,
                                        bool pins);

/// How the release stands, once nothing keeps an outage from beginning on it. Errors: as may_begin_on, io.
[[nodiscard]] Result<ReleaseStanding>
standing_to_begin(Workspace& workspace, files::LibraryEntry const& entry, AcceptedRelease const& accepted);
/// Puts on an outage's first entry who answers for the release, for the record and member by member.
void enter_release(Json& body, ReleaseStanding const& standing, AcceptedRelease const& accepted);
/// An outage under way moves only to a release that somebody known answers for. Errors: denied, io.
[[nodiscard]] Result<void> may_move_to(Workspace& workspace, files::LibraryEntry const& entry);

} // namespace isochore::session
