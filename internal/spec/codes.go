package spec

// The codes of this stage's diagnostics. They are part of the output: never renamed, never reused.
const (
	codeCycle        = "cycle"             // values of let that need each other
	codeDoubleBlock  = "double-block"      // a block given twice where one is allowed
	codeDoubleName   = "double-name"       // one name for two things
	codeLabel        = "label"             // the name after a block's word is missing, too much or malformed
	codeLanguage     = "language-version"  // written for another version of the language
	codeMissingBlock = "missing-block"     // a block that has to be there
	codeMissingFile  = "missing-file"      // a data file that cannot be read
	codeMissingValue = "missing-value"     // a value that has to be there
	codeNotYet       = "not-yet"           // a word of the language that this version does not know
	codeOneOf        = "one-of"            // values that exclude each other, or of which one is needed
	codeOutOfRange   = "out-of-range"      // a number, date or duration outside its bounds
	codeTextMath     = "text-arithmetic"   // + or < between texts
	codeTooLarge     = "too-large"         // a list, text or computation beyond the limits
	codeUnknownBlock = "unknown-block"     // a block that the language does not have
	codeUnknownName  = "unknown-name"      // a name that the language, a row or let does not have
	codeUnknownRef   = "unknown-reference" // a reference to nothing
	codeWrongType    = "wrong-type"        // a number for a text, a list for a value, an athlete for a session
	codeWrongUnit    = "wrong-unit"        // a quantity without its unit or with a foreign one
	codeWrongValue   = "wrong-value"       // a word, a date or a day that cannot be read
)
