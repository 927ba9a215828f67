#ifndef SMALLEND_HTTP_OPENAPI_H
#define SMALLEND_HTTP_OPENAPI_H

/* The published contract, api/openapi.json, as the build put it into the
 * program (service/embed.cmake). */

#include <stddef.h>

extern const unsigned char openapi_document[];
extern const size_t openapi_length;

#endif
