using System.Runtime.InteropServices;
using System.Text;
using Seamwright.Cli;

// What grows beyond a user's limit for files is a failed writing like any other, told in words, and no reason to be killed (POSIX, SIGXFSZ).
const int FileTooLarge = 25;
using var limit = OperatingSystem.IsWindows() ? null : PosixSignalRegistration.Create((PosixSignal)FileTooLarge, c => c.Cancel = true);
Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return SeamwrightCommand.Run(args, Terminal.OfProcess(), TimeProvider.System);
