#ifndef SMALLEND_SEAL_SEAL_H
#define SMALLEND_SEAL_SEAL_H

/*
 * The keys and tokens in force, and their exchange while requests go on. Who
 * uses them holds them: what is held does not change, and lasts until it is let
 * go, whatever is read anew meanwhile.
 */

#include <pthread.h>
#include <stdatomic.h>

#include "base/log.h"
#include "seal/keyring.h"
#include "seal/token.h"
#include "wire/notary.h"

/* Where to read them; texts are borrowed and must outlive the seal. */
struct seal_files {
    const char *signing_keys; /* PEM files separated by commas, the first signs; "" = none */
    const char *verify_keys;  /* the same of retired public keys */
    const char *tokens;       /* "" = none wanted */
};

struct seal_state {
    atomic_int holders;
    struct keyring ring;
    struct token_list tokens;
};

struct seal {
    struct seal_files files;
    enum log_mode log_mode;
    pthread_mutex_t lock; /* over `state` */
    struct seal_state *state;
};

enum { SEAL_FAULT_SIZE = KEY_FAULT_SIZE };

/*
 * Read everything. What an operator should look after (a key that everybody may
 * read, one whose signatures differ each time, a file of tokens without any) is
 * logged. False, and a sentence in `fault`: something cannot be used, and there
 * is nothing to close.
 */
bool seal_open(struct seal *seal, const struct seal_files *files, enum log_mode log_mode, char fault[SEAL_FAULT_SIZE])
    __attribute__((warn_unused_result));

/* Nobody may hold anything any more. */
void seal_close(struct seal *seal);

/* Read everything again. False, and a sentence in `fault`: something cannot be
 * used, and all is as it was. */
bool seal_reload(struct seal *seal, char fault[SEAL_FAULT_SIZE]) __attribute__((warn_unused_result));

/* Hold what is in force, and let it go. */
struct seal_state *seal_hold(struct seal *seal);
void seal_let_go(struct seal_state *state);

/* Who makes ids and signatures; it borrows the state, which must be held. */
struct notary seal_notary(const struct seal_state *state);

#endif
