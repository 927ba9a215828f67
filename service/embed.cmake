cmake_minimum_required(VERSION 3.25)

# cmake -D FROM=file -D TO=file.c -D HEADER=http/openapi.h -D NAME=openapi -P embed.cmake
#
# Writes a C file that holds the bytes of a file: NAME_document and NAME_length.
# It is written only where it would change, so that nothing is built for nothing.
file(READ ${FROM} bytes HEX)
string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
file(CONFIGURE OUTPUT ${TO} @ONLY CONTENT
"#include \"@HEADER@\"

const unsigned char @NAME@_document[] = {
@bytes@
};
const size_t @NAME@_length = sizeof @NAME@_document;
")
