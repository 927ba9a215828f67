#ifndef SMALLEND_HTTP_SETTING_RULE_H
#define SMALLEND_HTTP_SETTING_RULE_H

/*
 * What the text settings take. Each answers NULL if `value` will do, else what
 * was wanted, to complete the sentence "SETTING takes ...".
 */

/* One or more of "127.0.0.1:8080", "[::1]:8080", "name:8080", "8080", "+8080", each with an s behind it for TLS. */
const char *setting_rule_addresses(const char *value);

/* The same, or nothing at all. */
const char *setting_rule_addresses_or_none(const char *value);

/* "json", "text" or "off". */
const char *setting_rule_log_mode(const char *value);

/* Any text, or none: a file's name, which shows to be wrong when it is read. */
const char *setting_rule_anything(const char *value);

/* Names of files separated by commas, or nothing. */
const char *setting_rule_files(const char *value);

/* "require" or "ask". */
const char *setting_rule_client_certificates(const char *value);

/* "*", or origins ("https://example.org:8443"), or nothing. */
const char *setting_rule_origins(const char *value);

/* "https://example.org", with a path if need be, without a slash at its end;
 * or nothing. */
const char *setting_rule_url_or_none(const char *value);

#endif
