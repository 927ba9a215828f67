#include "seal/seal.h"

#include <stdlib.h>

#include "base/text.h"
#include "seal/digest.h"
#include "seal/jws.h"

static void
destroy(struct seal_state *state)
{
    keyring_clear(&state->ring);
    token_clear(&state->tokens);
    free(state);
}

static struct seal_state *
read_files(const struct seal_files *files, char fault[SEAL_FAULT_SIZE])
{
    struct seal_state *state = calloc(1, sizeof *state);
    if (state == NULL) {
        text_copy(fault, SEAL_FAULT_SIZE, "no memory for keys and tokens");
        return NULL;
    }
    atomic_init(&state->holders, 1);
    if (!keyring_read(&state->ring, files->signing_keys, files->verify_keys, fault) ||
        !token_read(&state->tokens, files->tokens, fault)) {
        destroy(state);
        return NULL;
    }
    return state;
}

/* ---- what the operator should look after ---- */

static void
warn_of_key(enum log_mode mode, const struct key *key, const char *detail)
{
    struct log_line line;
    log_begin(&line, mode, LOG_LEVEL_WARN, "signing_key");
    log_text(&line, "kid", key->id);
    log_text(&line, "detail", detail);
    log_end(&line);
}

static void
warn(const struct seal *seal, const struct seal_state *state)
{
    struct log_line line;
    for (size_t i = 0; i < state->ring.count; i++) {
        const struct key *key = &state->ring.key[i];
        if (key->world_readable) {
            warn_of_key(seal->log_mode, key,
                        "everybody on this machine may read or write the file of this private key");
        }
    }
    const struct key *signer = keyring_signer(&state->ring);
    if (signer != NULL && !key_is_deterministic(signer)) {
        warn_of_key(seal->log_mode, signer,
                    "ES256 with this OpenSSL (before 3.2): the same record is signed differently each time; the record "
                    "itself is the same");
    }
    if (state->tokens.wanted && state->tokens.count == 0) {
        log_begin(&line, seal->log_mode, LOG_LEVEL_WARN, "tokens");
        log_text(&line, "detail", "the file of tokens has none: nobody is admitted");
        log_end(&line);
    }
}

/* ---- life ---- */

bool
seal_open(struct seal *seal, const struct seal_files *files, enum log_mode log_mode, char fault[SEAL_FAULT_SIZE])
{
    *seal = (struct seal){.files = *files, .log_mode = log_mode};
    if (pthread_mutex_init(&seal->lock, NULL) != 0) {
        text_copy(fault, SEAL_FAULT_SIZE, "no lock for keys and tokens");
        return false;
    }
    seal->state = read_files(files, fault);
    if (seal->state == NULL) {
        pthread_mutex_destroy(&seal->lock);
        return false;
    }
    warn(seal, seal->state);
    return true;
}

void
seal_close(struct seal *seal)
{
    seal_let_go(seal->state);
    seal->state = NULL;
    pthread_mutex_destroy(&seal->lock);
}

bool
seal_reload(struct seal *seal, char fault[SEAL_FAULT_SIZE])
{
    struct seal_state *fresh = read_files(&seal->files, fault);
    if (fresh == NULL) {
        return false;
    }
    warn(seal, fresh);
    pthread_mutex_lock(&seal->lock);
    struct seal_state *old = seal->state;
    seal->state = fresh;
    pthread_mutex_unlock(&seal->lock);
    seal_let_go(old);
    return true;
}

struct seal_state *
seal_hold(struct seal *seal)
{
    pthread_mutex_lock(&seal->lock);
    struct seal_state *state = seal->state;
    atomic_fetch_add(&state->holders, 1);
    pthread_mutex_unlock(&seal->lock);
    return state;
}

void
seal_let_go(struct seal_state *state)
{
    if (state != NULL && atomic_fetch_sub(&state->holders, 1) == 1) {
        destroy(state);
    }
}

/* ---- notary ---- */

static bool
sign(const void *context, const char *payload, size_t length, struct buffer *jws)
{
    return jws_sign(context, payload, length, jws);
}

struct notary
seal_notary(const struct seal_state *state)
{
    const struct key *signer = keyring_signer(&state->ring);
    return (struct notary){
        .context = signer,
        .digest = digest_id,
        .sign = signer != NULL ? sign : NULL,
        .key_id = signer != NULL ? signer->id : NULL,
    };
}
