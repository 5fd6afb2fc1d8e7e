/* sha256.c - digests. */
#include "base/sha256.h"

#include <string.h>

#include "unit.h"

static void assert_digest(const char *text, size_t length, const char *wanted)
{
	char digest[SHA256_HEX_LENGTH + 1];
	sha256_hex(text, length, digest);
	assert_string_equal(digest, wanted);
}

/* NIST, "Cryptographic Standards and Guidelines, Examples with Intermediate Values": SHA-256. */
static void the_published_examples_come_out(void **state)
{
	(void)state;
	assert_digest("abc", 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
	const char *two_blocks = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
	assert_digest(two_blocks, strlen(two_blocks),
		      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
	assert_digest("", 0, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

/* NIST FIPS 180-2, appendix B.3: one million times the letter a. */
static void a_long_text_comes_out(void **state)
{
	(void)state;
	char *text = test_malloc(1000000);
	memset(text, 'a', 1000000);
	assert_digest(text, 1000000,
		      "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
	test_free(text);
}

/* Where the length just fits behind the text and where it does not: values of GNU sha256sum. */
static void the_padding_fills_one_block_or_two(void **state)
{
	(void)state;
	const char *text = "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa";
	assert_digest(text, 55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318");
	assert_digest(text, 56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a");
	assert_digest(text, 64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_published_examples_come_out),
		cmocka_unit_test(a_long_text_comes_out),
		cmocka_unit_test(the_padding_fills_one_block_or_two),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
